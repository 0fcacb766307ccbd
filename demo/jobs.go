package demo

import (
	"embed"
	"os"
	"path/filepath"
)

// jobs are the planned jobs of the workshop; they name sheets by their place beside the folder jobs.
//
//go:embed jobs/*.yaml
var jobs embed.FS

// JobFiles lists the job and kit files that Write writes, relative to its folder.
func JobFiles() []string {
	return []string{"jobs/saturday-pour.yaml", "jobs/hull-layup.yaml", "jobs/murrelam-kit.yaml"}
}

func writeJobs(dir string) error {
	if err := os.MkdirAll(filepath.Join(dir, "jobs"), 0o755); err != nil {
		return err
	}
	for _, name := range JobFiles() {
		raw, err := jobs.ReadFile(name)
		if err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(dir, filepath.FromSlash(name)), raw, 0o644); err != nil {
			return err
		}
	}
	return nil
}
