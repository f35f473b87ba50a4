// Package audit puts a battery of checks to a practice: what a check is, how it
// speaks of what it examined, which criteria hold, and how the answers become
// one result. Nothing here knows a particular check or a number of the trade.
package audit

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"footing/internal/practice"
	"footing/internal/steam"
	"footing/schemas"
)

// Grade is how much a finding weighs.
type Grade uint8

// Grades, lowest first.
const (
	Observation Grade = iota + 1
	Minor
	Major
	Critical
)

var gradeNames = [...]string{"", "observation", "minor", "major", "critical"}

// String is the grade's name as it stands in reports.
func (g Grade) String() string { return gradeNames[g] }

// Meanings says what each grade means, since no standard does.
func Meanings() map[string]string {
	return map[string]string{
		"critical":    "someone could have been harmed or treated outside the law, as written; act before the next client, and ask the regulator or public health",
		"major":       "a requirement was not met, or a control did not work, as written; correct it before the inspection or renewal",
		"minor":       "a single lapse or a gap in the records that weakens the proof; correct it in the ordinary run of work",
		"observation": "not a nonconformity: something to know, to settle or to watch",
	}
}

// Check is one question put to the records: data, and one pure function.
type Check struct {
	ID      string   // "cycles/exposure": family and name
	Title   string   // what is true when it is met, in plain words
	Why     string   // two or three sentences for the person who reads the report
	Grades  []Grade  // those its findings may have, highest first
	Subject string   // the kind its findings are grouped by; "practice" for the whole
	Thing   string   // what it examines, singular: "released load"
	Things  string   // and plural
	Needs   []string // kinds without which it is not assessed
	Helps   []string // kinds or kind.field that sharpen it
	Uses    []string // criteria it compares with; it can ask for no other
	Fix     []string // remediation steps, in order
	Verify  string   // what shows that they worked
	Run     func(*Examination)
	// Watch, of a check that judges data-logger files, says what it wants measured in
	// one of them: asked once each file, when its header is known and before its
	// readings are. It says nothing to the examination. What all checks want is
	// measured in one pass.
	Watch func(*Examination, *practice.Traced) steam.Setting
}

// Family is the part of the ID before the slash.
func (c *Check) Family() string { family, _, _ := strings.Cut(c.ID, "/"); return family }

var idForm = regexp.MustCompile(`^[a-z]+(-[a-z]+)*/[a-z]+(-[a-z]+)*$`)

// Validate refuses a battery that could not be run or read: an ID that is
// malformed or used twice or whose file Go would drop by its name, a text that
// is missing, grades out of order, a kind or criterion that does not exist.
func Validate(battery []Check, book *Criteria) error {
	seen := map[string]bool{}
	for _, c := range battery {
		if err := c.validate(book); err != nil {
			return fmt.Errorf("check %q: %w", c.ID, err)
		}
		if seen[c.ID] {
			return fmt.Errorf("check %q: defined twice", c.ID)
		}
		seen[c.ID] = true
	}
	return nil
}

func (c *Check) validate(book *Criteria) error {
	if !idForm.MatchString(c.ID) {
		return fmt.Errorf("the ID must be family/name in lower case with hyphens")
	}
	last := c.ID[strings.LastIndexAny(c.ID, "/-")+1:]
	if last == "test" || slices.Contains(systems, last) {
		return fmt.Errorf("its last word would make Go drop its file: _%s.go", last)
	}
	texts := map[string]string{"Title": c.Title, "Why": c.Why, "Subject": c.Subject, "Thing": c.Thing, "Things": c.Things, "Verify": c.Verify}
	for _, name := range []string{"Title", "Why", "Subject", "Thing", "Things", "Verify"} {
		if strings.TrimSpace(texts[name]) == "" {
			return fmt.Errorf("the text %s is empty", name)
		}
	}
	if len(c.Grades) == 0 || len(c.Fix) == 0 || c.Run == nil {
		return fmt.Errorf("it needs Grades, Fix and Run")
	}
	if !slices.IsSortedFunc(c.Grades, func(a, b Grade) int { return int(b) - int(a) }) {
		return fmt.Errorf("its Grades must stand highest first")
	}
	for _, name := range slices.Concat(c.Needs, c.Helps, []string{c.Subject}) {
		if err := knownName(name); err != nil {
			return err
		}
	}
	for _, id := range c.Uses {
		if !book.has(id) {
			return fmt.Errorf("uses a criterion %q that does not exist", id)
		}
	}
	return nil
}

// knownName accepts a kind, or kind.field.
func knownName(name string) error {
	kindName, fieldName, dotted := strings.Cut(name, ".")
	if name == "files" || name == "traces" {
		return nil
	}
	kind, ok := schemas.Lookup(kindName)
	if !ok {
		return fmt.Errorf("names a kind %q that does not exist", kindName)
	}
	if _, ok := kind.Field(fieldName); dotted && !ok {
		return fmt.Errorf("names a field %q that %s does not have", fieldName, kindName)
	}
	return nil
}

// systems are the words that Go's build system knows (go help buildconstraint, go/build's lists of 1.26).
var systems = strings.Fields("aix android darwin dragonfly freebsd hurd illumos ios js linux nacl netbsd openbsd plan9 solaris wasip1 windows zos " +
	"386 amd64 amd64p32 arm armbe arm64 arm64be loong64 mips mipsle mips64 mips64le mips64p32 mips64p32le ppc ppc64 ppc64le riscv riscv64 s390 s390x sparc sparc64 wasm")
