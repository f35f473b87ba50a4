package record

import (
	"context"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"footing/internal/quantity"
	"footing/schemas"
)

// common is what rows of all test kinds share.
type common struct {
	Row
	EnteredOn quantity.Day `field:"entered_on"`
	KeptAt    string       `field:"kept_at"`
	Corrects  string       `field:"corrects"`
	Note      string       `field:"note"`
}

type testProfile struct {
	common
	Name         string            `field:"name"`
	Regulator    string            `field:"regulator"`
	Jurisdiction string            `field:"jurisdiction"`
	TimeZone     string            `field:"time_zone"`
	Altitude     quantity.Quantity `field:"altitude"`
	Dates        string            `field:"dates"`
	Units        struct {
		Temperature string `field:"temperature"`
		Pressure    string `field:"pressure"`
	} `field:"units"`
	RuleSet      string         `field:"rule_set"`
	RecordsFrom  quantity.Day   `field:"records_from"`
	RenewalOn    quantity.Day   `field:"renewal_on"`
	InspectionOn quantity.Day   `field:"inspection_on"`
	Services     quantity.List  `field:"services"`
	Reprocessing string         `field:"reprocessing"`
	ClosedDays   quantity.List  `field:"closed_days"`
	Coverage     []testCoverage `field:"coverage"`
	Contacts     struct {
		PublicHealth string `field:"public_health"`
		Regulator    string `field:"regulator"`
		Insurer      string `field:"insurer"`
	} `field:"contacts"`
	Declarations []struct {
		Text    string        `field:"text"`
		RestsOn quantity.List `field:"rests_on"`
	} `field:"declarations"`
}

type testCoverage struct {
	Kind   string       `field:"kind"`
	From   quantity.Day `field:"from"`
	Until  quantity.Day `field:"until"`
	Share  string       `field:"share"`
	KeptAt string       `field:"kept_at"`
}

type testRules struct {
	common
	Criteria []struct {
		Criterion string `field:"criterion"`
		Value     string `field:"value"`
		When      string `field:"when"`
		Source    string `field:"source"`
		Note      string `field:"note"`
	} `field:"criteria"`
	Scope []struct {
		Permits string       `field:"permits"`
		To      string       `field:"to"`
		Source  string       `field:"source"`
		From    quantity.Day `field:"from"`
		Until   quantity.Day `field:"until"`
	} `field:"scope"`
	ScreenQuestions quantity.List `field:"screen_questions"`
	Accepted        []struct {
		Finding string       `field:"finding"`
		Reason  string       `field:"reason"`
		By      string       `field:"by"`
		Until   quantity.Day `field:"until"`
	} `field:"accepted"`
}

type testLoad struct {
	common
	Started          quantity.Moment   `field:"started"`
	Sterilizer       string            `field:"sterilizer"`
	Counter          quantity.Number   `field:"counter"`
	Program          string            `field:"program"`
	Ended            quantity.Moment   `field:"ended"`
	Temperature      quantity.Quantity `field:"temperature"`
	Pressure         quantity.Quantity `field:"pressure"`
	Exposure         quantity.Quantity `field:"exposure"`
	Drying           quantity.Quantity `field:"drying"`
	Wrapped          quantity.YesNo    `field:"wrapped"`
	HingesOpen       quantity.YesNo    `field:"hinges_open"`
	PacksDry         quantity.YesNo    `field:"packs_dry"`
	PacksMade        quantity.Number   `field:"packs_made"`
	Sets             quantity.List     `field:"sets"`
	OutsideIndicator string            `field:"outside_indicator"`
	InsideIndicator  string            `field:"inside_indicator"`
	Printout         quantity.YesNo    `field:"printout"`
	Certificate      string            `field:"certificate"`
	Trace            string            `field:"trace"`
	LoadedBy         string            `field:"loaded_by"`
	ReleasedBy       string            `field:"released_by"`
	ReleasedAt       quantity.Moment   `field:"released_at"`
	Decision         string            `field:"decision"`
	Fault            string            `field:"fault"`
}

type testTrip struct {
	common
	On           quantity.Day         `field:"on"`
	Person       string               `field:"person"`
	FromSite     string               `field:"from_site"`
	ToSite       string               `field:"to_site"`
	PacksOut     quantity.CountOrList `field:"packs_out"`
	PacksBack    quantity.CountOrList `field:"packs_back"`
	PacksSpoiled quantity.CountOrList `field:"packs_spoiled"`
	SoiledSealed quantity.YesNo       `field:"soiled_sealed"`
}

type testRecords struct {
	Profile testProfile `kind:"practice"`
	Rules   testRules   `kind:"rules"`
	Loads   []testLoad  `kind:"loads"`
	Trips   []testTrip  `kind:"trips"`
}

// allKinds makes a struct type with every kind and field of the schemas.
func allKinds() reflect.Type {
	var kinds []reflect.StructField
	for _, name := range schemas.Kinds() {
		kind, _ := schemas.Lookup(name)
		row := reflect.StructOf(append([]reflect.StructField{{Name: "Row", Type: reflect.TypeFor[Row]()}}, goFields(kind.Fields)...))
		if !kind.Single {
			row = reflect.SliceOf(row)
		}
		kinds = append(kinds, reflect.StructField{Name: goName(name), Type: row, Tag: reflect.StructTag(`kind:"` + name + `"`)})
	}
	return reflect.StructOf(kinds)
}

func goName(s string) string {
	return "F_" + strings.ReplaceAll(s, "-", "_")
}

func goFields(fields []*schemas.Field) []reflect.StructField {
	var list []reflect.StructField
	for _, f := range fields {
		if f.Name == "id" {
			continue
		}
		h, ok := holders[f.Form]
		if _, isQuantity := dimensions[f.Form]; isQuantity {
			h, ok = holdsQuantity, true
		}
		if !ok {
			h = holdsText
		}
		var t reflect.Type
		switch h {
		case holdsObject:
			t = reflect.StructOf(goFields(f.Fields))
		case holdsObjects:
			t = reflect.SliceOf(reflect.StructOf(goFields(f.Fields)))
		default:
			t = holderTypes[h]
		}
		list = append(list, reflect.StructField{Name: goName(f.Name), Type: t, Tag: reflect.StructTag(`field:"` + f.Name + `"`)})
	}
	return list
}

// folderOf writes files, by name, into a new folder.
func folderOf(t testing.TB, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		file := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// fill reads files into the test kinds.
func fill(t testing.TB, files map[string]string) (*testRecords, *Intake) {
	t.Helper()
	var rec testRecords
	in, err := Fill(context.Background(), folderOf(t, files), &rec, Options{})
	if err != nil {
		t.Fatal(err)
	}
	accounted(t, in)
	return &rec, in
}

// accounted checks that every row found was accepted or set aside.
func accounted(t testing.TB, in *Intake) {
	t.Helper()
	for _, f := range in.Files {
		if f.Rows != f.Accepted+f.SetAside {
			t.Errorf("%s: %d rows are not %d accepted and %d set aside", f.Name, f.Rows, f.Accepted, f.SetAside)
		}
	}
}

// sentences lists what was told.
func sentences(in *Intake) []string {
	var list []string
	for _, p := range in.Problems {
		list = append(list, p.Sentence)
	}
	return list
}
