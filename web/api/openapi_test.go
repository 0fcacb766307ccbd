package api_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"strings"
	"testing"

	"sixteen/web/api"
)

var update = flag.Bool("update", false, "write docs/openapi.json anew")

const committed = "../../docs/openapi.json"

// docs/openapi.json is the document that the code makes.
func TestOpenAPIIsCurrent(t *testing.T) {
	raw, err := api.OpenAPI()
	if err != nil {
		t.Fatal(err)
	}
	var want bytes.Buffer
	if err := json.Indent(&want, raw, "", "  "); err != nil {
		t.Fatal(err)
	}
	want.WriteByte('\n')
	if *update {
		if err := os.WriteFile(committed, want.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	have, err := os.ReadFile(committed)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(have, want.Bytes()) {
		t.Error("docs/openapi.json is not what the code makes: go test ./web/api -run OpenAPI -update writes it anew")
	}
}

// Every operation says in the document what it does, who may do it and how errors look; every address stands in docs/api.md.
func TestOpenAPIIsComplete(t *testing.T) {
	raw, err := api.OpenAPI()
	if err != nil {
		t.Fatal(err)
	}
	var doc struct {
		OpenAPI string
		Paths   map[string]map[string]struct {
			OperationID, Summary, Description string
			Security                          []map[string][]string
			Responses                         map[string]struct {
				Content map[string]json.RawMessage
			}
		}
	}
	if err := json.Unmarshal(raw, &doc); err != nil {
		t.Fatal(err)
	}
	guide, err := os.ReadFile("../../docs/api.md")
	if err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(doc.OpenAPI, "3.1") || len(doc.Paths) < 40 {
		t.Fatalf("OpenAPI %s with %d addresses", doc.OpenAPI, len(doc.Paths))
	}
	for path, methods := range doc.Paths {
		if !strings.Contains(string(guide), "`"+path+"`") {
			t.Errorf("docs/api.md does not name %s", path)
		}
		for method, o := range methods {
			name := strings.ToUpper(method) + " " + path
			if o.OperationID == "" || o.Summary == "" || !strings.Contains(o.Description, "Needs somebody who may ") || len(o.Security) != 2 {
				t.Errorf("%s is described by %+v", name, o)
			}
			problem := false
			for _, r := range o.Responses {
				_, ok := r.Content["application/problem+json"]
				problem = problem || ok
			}
			if !problem {
				t.Errorf("%s describes no errors", name)
			}
		}
	}
}
