package shelftest

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"
)

// The account of the S3 server; it listens on this machine only, as long as a test lasts.
const (
	s3User   = "sixteen"
	s3Secret = "only-for-tests"
)

// S3 is a running S3 server with one bucket, "sheets": versitygw, which keeps objects as files, as a process of its own that
// is talked to over HTTP.
type S3 struct {
	program, dir, port string
	cmd                *exec.Cmd
}

// StartS3 builds the server from the module in the folder source (shelftest/s3server), which is pinned by its go.mod, and
// starts it with its data in dir.
func StartS3(ctx context.Context, source, dir string) (*S3, error) {
	s := &S3{program: filepath.Join(dir, "versitygw"), dir: filepath.Join(dir, "buckets")}
	build := exec.CommandContext(ctx, "go", "build", "-C", source, "-o", s.program, "github.com/versity/versitygw/cmd/versitygw")
	build.Env = append(os.Environ(), "GOFLAGS=", "GOWORK=off")
	if out, err := build.CombinedOutput(); err != nil {
		return nil, fmt.Errorf("building the S3 server: %w: %s", err, out)
	}
	if err := os.MkdirAll(filepath.Join(s.dir, "sheets"), 0o700); err != nil {
		return nil, err
	}
	free, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return nil, err
	}
	s.port = free.Addr().String()
	if err := free.Close(); err != nil {
		return nil, err
	}
	return s, s.Start(ctx)
}

// Start starts the server, again after Stop, and waits until it answers.
func (s *S3) Start(ctx context.Context) error {
	s.cmd = exec.Command(s.program, "--quiet", "--port", s.port, "posix", s.dir)
	s.cmd.Env = append(os.Environ(), "ROOT_ACCESS_KEY="+s3User, "ROOT_SECRET_KEY="+s3Secret)
	var said strings.Builder
	s.cmd.Stdout, s.cmd.Stderr = &said, &said
	if err := s.cmd.Start(); err != nil {
		return err
	}
	ctx, cancel := context.WithTimeout(ctx, 60*time.Second)
	defer cancel()
	for {
		request, err := http.NewRequestWithContext(ctx, http.MethodGet, "http://"+s.port+"/", nil)
		if err != nil {
			return err
		}
		answer, err := http.DefaultClient.Do(request)
		if err == nil {
			return answer.Body.Close()
		}
		select {
		case <-ctx.Done():
			return errors.Join(fmt.Errorf("the S3 server does not answer: %w", err), s.Stop(), errors.New(said.String()))
		case <-time.After(20 * time.Millisecond):
		}
	}
}

// Stop ends the server at once.
func (s *S3) Stop() error {
	if err := s.cmd.Process.Kill(); err != nil {
		return err
	}
	s.cmd.Wait() // its status says only that it was killed
	return nil
}

// Environment is what a process needs to be let in, as names and values.
func (s *S3) Environment() map[string]string {
	return map[string]string{"AWS_ACCESS_KEY_ID": s3User, "AWS_SECRET_ACCESS_KEY": s3Secret}
}

// Bucket is the address of the bucket, with everything below a prefix of its own.
func (s *S3) Bucket(prefix string) string {
	return "s3://sheets?endpoint=http://" + s.port + "&use_path_style=true&region=us-east-1&prefix=" + prefix + "/"
}

// File is the file in which the server keeps an object.
func (s *S3) File(prefix, key string) string { return filepath.Join(s.dir, "sheets", prefix, key) }
