package judge

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"sixteen/substance"
)

// TablesFile is where the tables that this user imported are kept, in the user's configuration folder.
func TablesFile() (string, error) {
	dir, err := os.UserConfigDir()
	if err != nil {
		return "", fmt.Errorf("there is no folder for imported tables on this account: %w", err)
	}
	return filepath.Join(dir, "sixteen", "tables.json"), nil
}

// ReadTables reads the imported tables; a file that does not exist holds none.
func ReadTables(file string) (substance.Overlay, error) {
	raw, err := os.ReadFile(file)
	if errors.Is(err, fs.ErrNotExist) {
		return substance.Overlay{}, nil
	}
	if err != nil {
		return substance.Overlay{}, err
	}
	o, err := substance.ReadOverlay(raw)
	if err != nil {
		return substance.Overlay{}, fmt.Errorf("%s: %w", file, err)
	}
	return o, nil
}

// WriteTables keeps the imported tables. The file is replaced whole or not at all.
func WriteTables(file string, o substance.Overlay) error {
	raw, err := json.Marshal(o)
	if err != nil {
		return err
	}
	return replaceFile(file, raw)
}

// replaceFile puts raw in the place of a file, whole or not at all. Only this user may read it.
func replaceFile(file string, raw []byte) error {
	if err := os.MkdirAll(filepath.Dir(file), 0o700); err != nil {
		return err
	}
	f, err := os.CreateTemp(filepath.Dir(file), ".replaced-*")
	if err != nil {
		return err
	}
	defer os.Remove(f.Name())
	if _, err := f.Write(raw); err != nil {
		f.Close()
		return err
	}
	if err := f.Sync(); err != nil {
		f.Close()
		return err
	}
	if err := f.Close(); err != nil {
		return err
	}
	return os.Rename(f.Name(), file)
}

// Substances is the embedded substance table with this user's imported tables laid over it.
func Substances() (*substance.Table, error) {
	file, err := TablesFile()
	if err != nil {
		return substance.Embedded(), nil // an account without a configuration folder has imported nothing
	}
	o, err := ReadTables(file)
	if err != nil {
		return nil, err
	}
	return substance.Embedded().With(o), nil
}
