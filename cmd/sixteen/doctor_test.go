package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// keepCache leaves the prepared PDF reader where it is while the other folders move, and works without this user's shelf.
func keepCache(t *testing.T) {
	t.Helper()
	cache, err := os.UserCacheDir()
	if err != nil {
		t.Fatal(err)
	}
	t.Setenv("XDG_CACHE_HOME", cache)
	t.Setenv("XDG_DATA_HOME", t.TempDir())
	t.Setenv("SIXTEEN_SHELF", "")
}

// A machine without Tesseract can do the rest; the answer says how to get it, and the status that a part is missing.
func TestDoctorSaysWhatIsMissing(t *testing.T) {
	keepCache(t)
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	t.Setenv("PATH", t.TempDir())
	status, out, errText := runCommand(t, "doctor", "--json")
	if status != exitFindings {
		t.Fatalf("status %d, want %d: %s", status, exitFindings, errText)
	}
	var answers []examined
	if err := json.Unmarshal([]byte(out), &answers); err != nil {
		t.Fatal(err)
	}
	missing := 0
	for _, a := range answers {
		if a.State == missingState {
			missing++
			if !strings.Contains(a.Remedy, "apt-get install tesseract-ocr") {
				t.Errorf("%s: the remedy does not say how to get it: %q", a.What, a.Remedy)
			}
		} else if a.State != wellState {
			t.Errorf("%s is %s: %s", a.What, a.State, a.Found)
		}
	}
	if missing != 1 {
		t.Errorf("%d parts missing, want only the recognition of scans: %+v", missing, answers)
	}
}

// A language that Tesseract lacks is named with its package.
func TestDoctorNamesTheLanguage(t *testing.T) {
	bin := t.TempDir()
	script := "#!/bin/sh\nprintf 'List of available languages (2):\\neng\\ndeu\\n'\n"
	if err := os.WriteFile(filepath.Join(bin, "tesseract"), []byte(script), 0o755); err != nil {
		t.Fatal(err)
	}
	t.Setenv("PATH", bin+":/bin:/usr/bin")
	_, out, _ := runCommand(t, "doctor")
	if !strings.Contains(out, "tesseract-ocr-fra tesseract-ocr-spa") {
		t.Errorf("the missing languages are not named:\n%s", out)
	}
}

// A shelf whose file is something else is broken, and stays as it is.
func TestDoctorFindsADamagedShelf(t *testing.T) {
	keepCache(t)
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	file := filepath.Join(t.TempDir(), "shelf.sqlite")
	if err := os.WriteFile(file, []byte(strings.Repeat("no register ", 400)), 0o600); err != nil {
		t.Fatal(err)
	}
	status, out, _ := runCommand(t, "doctor", "--shelf", file)
	if status != exitFailed || !strings.Contains(out, "sixteen shelf restore") {
		t.Errorf("status %d, want %d, with what to do:\n%s", status, exitFailed, out)
	}
	if left, err := os.ReadFile(file); err != nil || !strings.HasPrefix(string(left), "no register ") {
		t.Errorf("the file was changed: %v", err)
	}
}

// A folder that cannot be written is broken, and the remedy names the variable.
func TestDoctorFindsFoldersThatCannotBeWritten(t *testing.T) {
	keepCache(t)
	home := t.TempDir()
	if err := os.WriteFile(filepath.Join(home, "file"), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	t.Setenv("HOME", home)
	t.Setenv("XDG_CONFIG_HOME", filepath.Join(home, "file"))
	status, out, _ := runCommand(t, "doctor")
	if status != exitFailed || !strings.Contains(out, "XDG_CONFIG_HOME") {
		t.Errorf("status %d, want %d, with the variable named:\n%s", status, exitFailed, out)
	}
}
