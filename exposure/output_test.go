package exposure

import (
	"bytes"
	"context"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"sixteen/ghs"
	"sixteen/substance"
)

func TestTextSaysWhatIsOpen(t *testing.T) {
	r, err := Run(context.Background(), exampleJob(t), substance.Embedded(), Options{Samples: 200})
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := r.WriteText(&b); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"* Not assessed: what the list leaves open", "xylene", "no limit here: band", "Heat of cure (estimate)", "chance of exceeding", "estimate", "rank correlation"} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("the text lacks %q", want)
		}
	}
	if strings.Contains(strings.ToLower(b.String()), "safe") {
		t.Error("the text promises safety")
	}
	if err := r.WriteText(failing{}); err == nil {
		t.Error("a failing writer gives no error")
	}
}

type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, errors.New("full") }

func TestChartsAreWellFormed(t *testing.T) {
	r, err := Run(context.Background(), exampleJob(t), substance.Embedded(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	air, ok1 := r.AirChart("xylene")
	parts, ok2 := r.ContributionChart("shed")
	heat, ok3 := r.HeatChart()
	if !ok1 || !ok2 || !ok3 {
		t.Fatal("a chart is missing", ok1, ok2, ok3)
	}
	for _, svg := range [][]byte{air, parts, heat} {
		d := xml.NewDecoder(bytes.NewReader(svg))
		paths := 0
		for {
			tok, err := d.Token()
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatal(err)
			}
			if s, ok := tok.(xml.StartElement); ok && s.Name.Local == "path" {
				paths++
			}
		}
		if paths < 5 || bytes.Contains(svg, []byte("NaN")) {
			t.Errorf("%d paths in %.200s", paths, svg)
		}
	}
	if !bytes.Contains(air, []byte("OSHA PEL TWA")) {
		t.Error("the limits are not named")
	}
	if _, ok := r.AirChart("unobtainium"); ok {
		t.Error("a chart of nothing")
	}
}

// NIOSH 2019-132, tier 1: the most severe endpoint wins.
func TestBanding(t *testing.T) {
	if b := BandOf([]ghs.Code{"H302", "H317"}, []ghs.Hazard{ghs.NoHazard, ghs.NoHazard}); b.Letter != "D" || !b.Memory || b.Air == "" {
		t.Errorf("%+v", b)
	}
	sens1B, _ := ghs.ParseHazard("Skin Sens. 1B")
	if b := BandOf([]ghs.Code{"H317"}, []ghs.Hazard{sens1B}); b.Letter != "C" {
		t.Errorf("%+v", b)
	}
	if b := BandOf([]ghs.Code{"H336"}, []ghs.Hazard{ghs.NoHazard}); b.Letter != "" {
		t.Errorf("H336 is not used for banding: %+v", b)
	}
	if b := BandOf([]ghs.Code{"H302", "H350i"}, []ghs.Hazard{ghs.NoHazard, ghs.NoHazard}); b.Letter != "E" {
		t.Errorf("%+v", b)
	}
}

// An ingredient without vapour pressure is in the headline.
func TestUnknownIngredientIsNotDropped(t *testing.T) {
	job := benchJob()
	job.Products[0].Ingredients = append(job.Products[0].Ingredients, Ingredient{Name: "secret thinner", Percent: Between(1, 5)})
	r, err := Run(context.Background(), job, substance.Embedded(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(strings.Join(r.Headline, "\n"), "secret thinner") {
		t.Error(r.Headline)
	}
}

// Mist and dust come with two rough ends and stand in the headline, with what is worse in them than dust; wet sanding, for
// which no figure was found, is named as not assessed.
func TestMistAndDustAreNamed(t *testing.T) {
	job := benchJob()
	job.Products[0].Ingredients = append(job.Products[0].Ingredients, Ingredient{Name: "quartz flour", CAS: "14808-60-7", Percent: Between(5, 10), Solid: true},
		Ingredient{Name: "MDI", CAS: "101-68-8", Percent: Between(1, 2)})
	job.Tasks[0].Surface, job.Tasks[0].Gun = Spray, "hvlp"
	job.Tasks = append(job.Tasks, Task{Name: "flatten", Kind: "sand", Room: "shed", StartMin: 300, DurationMin: 30, Product: "paint"},
		Task{Name: "rub", Kind: "sand", Room: "shed", StartMin: 340, DurationMin: 30, Product: "paint", Wet: true},
		Task{Name: "polish", Kind: "sand", Room: "shed", StartMin: 380, DurationMin: 30, Product: "paint", Extraction: true})
	r, err := Run(context.Background(), job, substance.Embedded(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	all := strings.Join(r.Headline, "\n")
	for _, want := range []string{"brush: mist, rough", "flatten: dust, rough", "rub: dust is not assessed", "crystalline silica: quartz flour", "isocyanate that has not cured: MDI", "isocyanate: MDI"} {
		if !strings.Contains(all, want) {
			t.Errorf("the headline lacks %q:\n%s", want, all)
		}
	}
	of := map[string]Particles{}
	for _, d := range r.Particles {
		of[d.Task] = d
	}
	// 2 to 170 mg/m³ without and 0.22 to 1.2 mg/m³ with extraction: AIHA Journal 55 (1994) 756, abstract.
	if d := of["flatten"]; d.LowMgM3 != 2 || d.HighMgM3 != 170 {
		t.Errorf("%+v", d)
	}
	if d := of["polish"]; d.LowMgM3 != 0.22 || d.HighMgM3 != 1.2 {
		t.Errorf("%+v", d)
	}
	if d := of["brush"]; !(d.Known && d.LowMgM3 > 0 && d.LowMgM3 < d.HighMgM3) {
		t.Errorf("%+v", d)
	}
	for _, c := range of["flatten"].Holds {
		if c.CAS == "14808-60-7" && !(c.Low == 0.05 && c.High > 0.1 && c.High <= 1) {
			t.Errorf("quartz: %+v", c)
		}
	}
	for _, v := range r.Vapours {
		if v.Balance.Relative > 1e-6 {
			t.Errorf("%s: %+v", v.Name, v.Balance)
		}
	}
}

func TestLongShiftAndChild(t *testing.T) {
	job := benchJob()
	job.ShiftHours = 12
	job.People = append(job.People, Person{Name: "child", Age: "child 1-3", Stays: job.People[0].Stays})
	r, err := Run(context.Background(), job, substance.Embedded(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	a, b := r.People[0].Exposures[1], r.People[1].Exposures[1]
	if l := a.Limits[0]; l.Reduction != 0.5 || l.Fraction.Middle < 1.33*a.TWA8.Middle/l.MgM3*0.999 || l.Fraction.Middle > 1.34*a.TWA8.Middle/l.MgM3 {
		t.Errorf("12 h: %+v, 8 h mean %g", l, a.TWA8.Middle)
	}
	if b.DoseMgKg.Middle <= a.DoseMgKg.Middle*1.5 {
		t.Errorf("dose of the child %g, worker %g", b.DoseMgKg.Middle, a.DoseMgKg.Middle)
	}
	if s, who := childShare(); s <= 0.05 || s >= 0.3 || who == "" {
		t.Errorf("%g %s", s, who)
	}
}

func TestJobFileErrors(t *testing.T) {
	for _, raw := range []string{"name: x\nvolume: 3\n", "rooms: [{name: a, volume_m3: [3, 1]}]", "rooms: [{name: a, volume_m3: about ten}]"} {
		if _, err := ParseJob([]byte(raw)); err == nil {
			t.Errorf("%q is accepted", raw)
		}
	}
	for raw, want := range map[string]string{
		"rooms: [{name: a, air_change_per_hour: 1}]":        `"air_changes_per_hour"`,
		"tasks: [{name: a, duration: 10}]":                  `"duration_min"`,
		"jurisdicton: us":                                   `"jurisdiction"`,
		"products: [{name: a, ingredient: []}]":             `"ingredients"`,
		"people: [{name: a, zodiac: goat}]":                 "names them all",
		"products: [{name: a, cure: {potlife_min: 3}}]":     `"pot_life_min"`,
		"rooms: [{name: a, near_field: {radius: 1}}]":       `"radius_m"`,
		"products: [{name: a, parts: [{name: b, fil: x}]}]": `"file"`,
	} {
		if _, err := ParseJob([]byte(raw)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %s", raw, err, want)
		}
	}
	for words, want := range map[string]Range{"10-25": Between(10, 25), "10 – 25 %": Between(10, 25), "7": Exactly(7)} {
		if r, err := ParseRange(words); err != nil || r != want {
			t.Errorf("%s: %v %v", words, r, err)
		}
	}
	if r, err := ParseRange("<10"); err != nil || r.HasLo || r.Hi != 10 || !r.HiOpen {
		t.Errorf("%v %v", r, err)
	}
}

// The transfer efficiencies held lie in order between 0 and 1, and each gun can be named in a job.
func TestGunsAreHeld(t *testing.T) {
	for _, gun := range Guns() {
		low, high, source, ok := TransferOf(gun)
		if !ok || !(low > 0 && low <= high && high < 1) || source == "" {
			t.Errorf("%s: %g to %g, %q", gun, low, high, source)
		}
	}
	if _, _, _, ok := TransferOf("brush"); ok {
		t.Error("a brush is no gun")
	}
}

// The example names every field that a job file may hold, so that a suggestion can be made for each; it also runs.
func TestExampleNamesEveryField(t *testing.T) {
	source, err := os.ReadFile("job.go")
	if err != nil {
		t.Fatal(err)
	}
	cure, err := os.ReadFile("cure.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range regexp.MustCompile(`yaml:"([a-z0-9_]+)"`).FindAllStringSubmatch(string(source)+string(cure), -1) {
		if !slices.Contains(fields(), m[1]) {
			t.Errorf("example.yaml does not name %s", m[1])
		}
	}
}
