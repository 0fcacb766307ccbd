package ghs

import (
	"embed"
	"encoding/csv"
	"fmt"
	"strconv"
)

//go:embed hazards.csv parts.csv classes.csv aliases.csv
var tables embed.FS

// hazardRow is one row of hazards.csv with what parts.csv and classes.csv add to it.
type hazardRow struct {
	constant  string
	part      string
	class     Class
	category  string
	qualifier Qualifier
	name      string
	rank      int // 1 is the severest of its class
}

// part is what carries a title of its own within a class: "Skin corrosion" and "Skin irritation" are one class.
type part struct {
	key   string
	class Class
	short string
	title map[Lang]string
}

type classRow struct {
	constant string
	group    Group
	short    string
	title    map[Lang]string
	only     bool // the class has one hazard
}

// vocabulary holds the embedded tables, read once when the program starts and never changed.
type vocabulary struct {
	hazards []hazardRow // indexed by Hazard; row 0 is NoHazard
	byName  map[string]Hazard
	classes []classRow // indexed by Class; row 0 is NoClass
	parts   map[string]part
	aliases []alias
	byFirst map[string][]int // places in aliases, longest first, by the first word
}

var words = mustLoadVocabulary()

func mustLoadVocabulary() *vocabulary {
	v, err := loadVocabulary()
	if err != nil {
		panic(err) // the tables are part of the program: a fault in them is a fault of the build, found by any test
	}
	return v
}

func loadVocabulary() (*vocabulary, error) {
	v := &vocabulary{byName: map[string]Hazard{}, parts: map[string]part{}}
	for _, load := range []func() error{v.loadClasses, v.loadParts, v.loadHazards, v.loadAliases} {
		if err := load(); err != nil {
			return nil, err
		}
	}
	return v, nil
}

// readTable reads one embedded CSV file into rows keyed by the names of its first line.
func readTable(files embed.FS, name string) ([]map[string]string, error) {
	f, err := files.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	r := csv.NewReader(f)
	lines, err := r.ReadAll()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	rows := make([]map[string]string, 0, len(lines)-1)
	for _, line := range lines[1:] {
		row := make(map[string]string, len(line))
		for i, cell := range line {
			row[lines[0][i]] = cell
		}
		rows = append(rows, row)
	}
	return rows, nil
}

func titles(row map[string]string) map[Lang]string {
	t := map[Lang]string{}
	for _, l := range Langs() {
		t[l] = row[string(l)]
	}
	return t
}

func (v *vocabulary) loadClasses() error {
	rows, err := readTable(tables, "classes.csv")
	if err != nil {
		return err
	}
	v.classes = append(v.classes, classRow{})
	for _, row := range rows {
		v.classes = append(v.classes, classRow{row["class"], Group(row["group"]), row["short"], titles(row), false})
	}
	return nil
}

func (v *vocabulary) loadParts() error {
	rows, err := readTable(tables, "parts.csv")
	if err != nil {
		return err
	}
	byName := map[string]Class{}
	for i, c := range v.classes {
		byName[c.constant] = Class(i)
	}
	for _, row := range rows {
		class := byName[row["class"]]
		if class == NoClass {
			return fmt.Errorf("parts.csv: %s: no class %q in classes.csv", row["part"], row["class"])
		}
		v.parts[row["part"]] = part{row["part"], class, row["short"], titles(row)}
	}
	return nil
}

func (v *vocabulary) loadHazards() error {
	rows, err := readTable(tables, "hazards.csv")
	if err != nil {
		return err
	}
	v.hazards = append(v.hazards, hazardRow{})
	for _, row := range rows {
		p, known := v.parts[row["part"]]
		if !known {
			return fmt.Errorf("hazards.csv: %s: no part %q in parts.csv", row["name"], row["part"])
		}
		q, known := parseQualifier(row["qualifier"])
		if !known {
			return fmt.Errorf("hazards.csv: %s: no qualifier %q", row["name"], row["qualifier"])
		}
		rank, err := strconv.Atoi(row["rank"])
		if err != nil {
			return fmt.Errorf("hazards.csv: %s: rank: %w", row["name"], err)
		}
		h := hazardRow{row["constant"], row["part"], p.class, row["category"], q, row["name"], rank}
		v.byName[h.name] = Hazard(len(v.hazards))
		v.hazards = append(v.hazards, h)
	}
	count := make([]int, len(v.classes))
	for _, h := range v.hazards {
		count[h.class]++
	}
	for c := range v.classes {
		v.classes[c].only = count[c] == 1
	}
	if len(v.hazards) > MaxHazards {
		return fmt.Errorf("hazards.csv: %d hazards, and MaxHazards is %d", len(v.hazards), MaxHazards)
	}
	return nil
}
