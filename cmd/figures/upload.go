package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"time"

	"sixteen/demo"
)

// uploaded is how many sheets are sent at once.
const uploaded = 500

// uploading sends many generated sheets in one request to a server that was just started, waits until the last is judged, and
// prints how long that took beside the command line's judging of the same files just before and just after.
func uploading(ctx context.Context, dir, program string) error {
	files, err := generatedFiles(filepath.Join(dir, "upload"), uploaded)
	if err != nil {
		return err
	}
	first, err := checkedIn(ctx, program, files)
	if err != nil {
		return err
	}
	here, err := servedIn(ctx, program, filepath.Join(dir, "upload.sqlite"), files)
	if err != nil {
		return err
	}
	second, err := checkedIn(ctx, program, files)
	if err != nil {
		return err
	}
	wall, cpu := (first.wall+second.wall)/2, (first.cpu+second.cpu)/2
	fmt.Printf("\n| %d sheets, all judged | server, from sending them | sixteen check, before and after | ratio | goal |\n|---|---|---|---|---|\n", len(files))
	fmt.Printf("| time | %.1f s | %.1f s, %.1f s | %.2f | ≤ 1.20 |\n", here.wall.Seconds(), first.wall.Seconds(), second.wall.Seconds(), here.wall.Seconds()/wall.Seconds())
	fmt.Printf("| processor time | %.1f s | %.1f s, %.1f s | %.2f | |\n", here.cpu.Seconds(), first.cpu.Seconds(), second.cpu.Seconds(), here.cpu.Seconds()/cpu.Seconds())
	return nil
}

// generatedFiles writes so many generated sheets, each different.
func generatedFiles(dir string, n int) ([]string, error) {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, err
	}
	var files []string
	generated := demo.Generated{Seed: 4000}
	for i := range n {
		raw, _, err := generated.Sheet(i)
		if err != nil {
			return nil, err
		}
		file := filepath.Join(dir, fmt.Sprintf("sheet-%04d.pdf", i))
		if err := os.WriteFile(file, raw, 0o644); err != nil {
			return nil, err
		}
		files = append(files, file)
	}
	return files, nil
}

// spent is what a process took.
type spent struct{ wall, cpu time.Duration }

// checkedIn is what the command line takes for the files.
func checkedIn(ctx context.Context, program string, files []string) (spent, error) {
	cmd := exec.CommandContext(ctx, program, slices.Concat([]string{"check"}, []string{filepath.Dir(files[0])})...)
	var out bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &out
	began := time.Now()
	err := cmd.Run()
	if cmd.ProcessState == nil || cmd.ProcessState.ExitCode() > 1 { // 1: findings
		return spent{}, fmt.Errorf("sixteen check: %v: %s", err, out.String())
	}
	return spent{time.Since(began), cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()}, nil
}

// servedIn is what a server takes, from the moment the files are sent.
func servedIn(ctx context.Context, program, file string, files []string) (out spent, err error) {
	err = serving(ctx, program, file, "127.0.0.1:18931", func(base string, server *exec.Cmd) error {
		before := cpuOf(server.Process.Pid)
		began := time.Now()
		if err := sendAll(ctx, base+"/upload", files); err != nil {
			return err
		}
		for {
			open, err := stillOpen(ctx, base)
			if err != nil {
				return err
			}
			if open == "0" {
				break
			}
			select {
			case <-ctx.Done():
				return ctx.Err()
			case <-time.After(200 * time.Millisecond):
			}
		}
		out = spent{time.Since(began), cpuOf(server.Process.Pid) - before}
		return nil
	})
	return out, err
}

// stillOpen is how many documents the server has still to read.
func stillOpen(ctx context.Context, base string) (string, error) {
	req, err := http.NewRequestWithContext(ctx, http.MethodGet, base+"/reading", nil)
	if err != nil {
		return "", err
	}
	req.Header.Set("X-Part", "reading")
	res, err := http.DefaultClient.Do(req)
	if err != nil {
		return "", err
	}
	defer res.Body.Close()
	if _, err := io.Copy(io.Discard, res.Body); err != nil {
		return "", err
	}
	if res.StatusCode != http.StatusOK {
		return "", fmt.Errorf("/reading: %s", res.Status)
	}
	return res.Header.Get("X-Open"), nil
}

// sendAll sends files in one form, as a browser does that many were dropped on.
func sendAll(ctx context.Context, address string, files []string) error {
	body, into := io.Pipe()
	form := multipart.NewWriter(into)
	go func() {
		err := func() error {
			for _, file := range files {
				data, err := os.ReadFile(file)
				if err != nil {
					return err
				}
				part, err := form.CreateFormFile("file", filepath.Base(file))
				if err != nil {
					return err
				}
				if _, err := part.Write(data); err != nil {
					return err
				}
			}
			return form.Close()
		}()
		into.CloseWithError(err)
	}()
	req, err := http.NewRequestWithContext(ctx, http.MethodPost, address, body)
	if err != nil {
		return err
	}
	req.Header.Set("Content-Type", form.FormDataContentType())
	return answered(&http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}, req)
}
