package demo_test

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/goccy/go-yaml"

	"sixteen/demo"
	"sixteen/exposure"
)

// Every job file of the workshop can be read, and the sheets it names are among those that Write writes.
func TestJobsNameTheSheetsOfTheWorkshop(t *testing.T) {
	var sheets []string
	for _, item := range demo.Described().Products {
		sheets = append(sheets, item.Sheet)
	}
	known := func(from, file string) {
		t.Helper()
		if rel := filepath.ToSlash(filepath.Join("jobs", file)); file != "" && !slices.Contains(sheets, rel) {
			t.Errorf("%s names %s, which no product of the workshop has", from, file)
		}
	}
	for _, name := range demo.JobFiles() {
		raw, err := os.ReadFile(filepath.FromSlash(name))
		if err != nil {
			t.Fatal(err)
		}
		products := []exposure.Product{}
		if job, err := exposure.ParseJob(raw); err == nil {
			products = job.Products
			if len(job.Tasks) == 0 || len(job.People) == 0 {
				t.Errorf("%s: no tasks or no people", name)
			}
		} else {
			var kit exposure.Product
			if err := yaml.UnmarshalWithOptions(raw, &kit, yaml.Strict()); err != nil {
				t.Fatalf("%s: neither a job nor a product: %v", name, err)
			}
			products = append(products, kit)
		}
		for _, p := range products {
			known(name, p.File)
			for _, part := range p.Parts {
				known(name, part.File)
			}
		}
	}
}
