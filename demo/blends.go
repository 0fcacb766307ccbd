package demo

import (
	"embed"
	"os"
	"path/filepath"
)

// blends are the recipes of the workshop's own products; they name supplier sheets by their place beside the folder blends.
//
//go:embed blends/*.yaml
var blends embed.FS

// BlendFiles lists the recipes that Write writes, relative to its folder.
func BlendFiles() []string { return []string{"blends/gap-filler.yaml"} }

func writeBlends(dir string) error {
	if err := os.MkdirAll(filepath.Join(dir, "blends"), 0o755); err != nil {
		return err
	}
	for _, name := range BlendFiles() {
		raw, err := blends.ReadFile(name)
		if err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(dir, filepath.FromSlash(name)), raw, 0o644); err != nil {
			return err
		}
	}
	return nil
}
