package record

import (
	"encoding/binary"
	"regexp"
	"regexp/syntax"
	"slices"
	"sync"
	"sync/atomic"
	"unicode/utf8"
)

// matcher answers as its regular expression does, by states worked out as strings ask
// for them: some ten times faster on the patterns of dates and times. A string with
// other than ASCII, or a pattern with word boundaries or lines, is left to the
// expression itself. It may be used by several goroutines.
type matcher struct {
	re      *regexp.Regexp
	prog    *syntax.Prog
	first   *state               // nil where states cannot answer
	classes [utf8.RuneSelf]uint8 // characters of one class are alike to the pattern
	count   int                  // of classes

	mu    sync.Mutex
	known map[string]*state
}

// state is a set of places in the program.
type state struct {
	next    []atomic.Pointer[state] // by class
	places  []uint32
	matched bool // whatever follows
	ends    bool // if the string ends here
}

const mostStates = 512

// newMatcher prepares the first state.
func newMatcher(re *regexp.Regexp) *matcher {
	m := &matcher{re: re, known: map[string]*state{}}
	tree, err := syntax.Parse(re.String(), syntax.Perl)
	if err != nil {
		return m
	}
	prog, err := syntax.Compile(tree.Simplify())
	if err != nil {
		return m
	}
	for _, in := range prog.Inst {
		if in.Op == syntax.InstEmptyWidth && syntax.EmptyOp(in.Arg)&^(syntax.EmptyBeginText|syntax.EmptyEndText) != 0 {
			return m
		}
	}
	m.prog = prog
	m.classify()
	m.first = m.state([]uint32{uint32(prog.Start)}, true)
	return m
}

func (m *matcher) match(s string) bool {
	at := m.first
	if at == nil {
		return m.re.MatchString(s)
	}
	for i := range len(s) {
		if at.matched {
			return true
		}
		c := s[i]
		if c >= utf8.RuneSelf {
			return m.re.MatchString(s)
		}
		next := at.next[m.classes[c]].Load()
		if next == nil {
			if next = m.step(at, c); next == nil {
				return m.re.MatchString(s)
			}
		}
		at = next
	}
	return at.matched || at.ends
}

// step finds the state after byte c; nil if there are too many states.
func (m *matcher) step(at *state, c byte) *state {
	m.mu.Lock()
	defer m.mu.Unlock()
	var out []uint32
	for _, pc := range at.places {
		if in := &m.prog.Inst[pc]; in.MatchRune(rune(c)) {
			out = append(out, in.Out)
		}
	}
	next := m.state(append(out, uint32(m.prog.Start)), false) // a match may begin anywhere
	if next != nil {
		at.next[m.classes[c]].Store(next)
	}
	return next
}

// state gives the state of the places that can be reached from those given without
// reading a character; begin is true at the beginning of the string.
func (m *matcher) state(from []uint32, begin bool) *state {
	s := &state{}
	seen := map[uint32]bool{}
	var follow func(pc uint32, end bool)
	follow = func(pc uint32, end bool) {
		mark := pc << 1
		if end {
			mark |= 1
		}
		if seen[mark] {
			return
		}
		seen[mark] = true
		in := &m.prog.Inst[pc]
		switch in.Op {
		case syntax.InstAlt, syntax.InstAltMatch:
			follow(in.Out, end)
			follow(in.Arg, end)
		case syntax.InstCapture, syntax.InstNop:
			follow(in.Out, end)
		case syntax.InstEmptyWidth:
			need := syntax.EmptyOp(in.Arg)
			if need&syntax.EmptyBeginText == 0 || begin {
				follow(in.Out, end || need&syntax.EmptyEndText != 0)
			}
		case syntax.InstMatch:
			s.ends = true
			s.matched = s.matched || !end
		case syntax.InstRune, syntax.InstRune1, syntax.InstRuneAny, syntax.InstRuneAnyNotNL:
			if !end {
				s.places = append(s.places, pc)
			}
		}
	}
	for _, pc := range from {
		follow(pc, false)
	}
	slices.Sort(s.places)
	var key []byte
	for _, pc := range s.places {
		key = binary.AppendUvarint(key, uint64(pc)+4)
	}
	if s.ends {
		key = append(key, 1)
	}
	if s.matched {
		key = append(key, 2)
	}
	if old := m.known[string(key)]; old != nil {
		return old
	}
	if len(m.known) >= mostStates {
		return nil
	}
	s.next = make([]atomic.Pointer[state], m.count)
	m.known[string(key)] = s
	return s
}

// classify puts characters between which the pattern makes no difference into one class.
func (m *matcher) classify() {
	seen := map[string]uint8{}
	for c := range m.classes {
		var key []byte
		for i := range m.prog.Inst {
			switch in := &m.prog.Inst[i]; in.Op {
			case syntax.InstRune, syntax.InstRune1, syntax.InstRuneAny, syntax.InstRuneAnyNotNL:
				b := byte(0)
				if in.MatchRune(rune(c)) {
					b = 1
				}
				key = append(key, b)
			}
		}
		class, ok := seen[string(key)]
		if !ok {
			class = uint8(len(seen))
			seen[string(key)] = class
		}
		m.classes[c] = class
	}
	m.count = len(seen)
}
