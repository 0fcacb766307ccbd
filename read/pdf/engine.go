package pdf

import (
	"bytes"
	"context"
	"crypto/sha256"
	_ "embed"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"sync"
	"time"

	"github.com/andybalholm/brotli"
	"github.com/samyfodil/wazy"
	"github.com/samyfodil/wazy/api"
	"github.com/samyfodil/wazy/imports/wasi_snapshot_preview1"
)

// packed is the metered module, compressed (RFC 7932).
//
//go:embed pdfium.wasm.br
var packed []byte

// module unpacks PDFium.
func module() ([]byte, error) {
	unpacked, err := io.ReadAll(brotli.NewReader(bytes.NewReader(packed)))
	if err != nil {
		return nil, fmt.Errorf("unpack the PDF reader: %w", err)
	}
	return unpacked, nil
}

// Options tune an Engine. The zero value is right for most uses.
type Options struct {
	// CacheDir keeps the compiled PDFium between runs. "" is the user's cache folder; "-" keeps nothing.
	// Whoever may write to the folder may run code as the user.
	CacheDir string
	// Progress, if set, is told in plain words what takes long (compiling PDFium, the first time).
	Progress func(string)
	// MaxBytes is the largest file that is opened; 0 is 100 MB.
	MaxBytes int
	// MaxPages is the largest number of pages; 0 is 500.
	MaxPages int
	// PageWork bounds the work for each page, in rounds of PDFium's loops; 0 is 150 million, which take 2 to 20 seconds.
	// Reading a usual page takes up to a million, drawing it at 300 dpi up to fifty million. Drawing may take four times
	// PageWork; opening a document takes ten rounds for each of its bytes besides.
	PageWork int64
	// Idle is the number of unused instances kept for the next document; 0 is one per processor.
	Idle int
}

func (o Options) withDefaults() Options {
	if o.MaxBytes == 0 {
		o.MaxBytes = 100 << 20
	}
	if o.MaxPages == 0 {
		o.MaxPages = 500
	}
	if o.PageWork == 0 {
		o.PageWork = 150e6
	}
	if o.Idle == 0 {
		o.Idle = runtime.NumCPU()
	}
	if o.Progress == nil {
		o.Progress = func(string) {}
	}
	return o
}

// memoryPages bounds the memory of one instance, in pages of 64 KiB: 768 MB. It must hold the file, and the picture when
// a page is rendered; it is only used as far as a document needs it.
const memoryPages = 768 << 4

// Engine is PDFium, compiled and ready. It may be used from several goroutines at once; each Document from one.
type Engine struct {
	options  Options
	runtime  wazy.Runtime
	compiled wazy.CompiledModule

	mu     sync.Mutex
	idle   []*instance
	closed bool
}

// NewEngine compiles PDFium, or loads it from the cache folder: some seconds the first time on a computer, a tenth of a
// second later. Close it when done.
func NewEngine(ctx context.Context, options Options) (*Engine, error) {
	o := options.withDefaults()
	dir, err := cacheFolder(o.CacheDir)
	if err == nil && dir != "" {
		if cache, err := wazy.NewCompilationCacheWithDirReadOnly(dir); err == nil {
			e, err := newEngine(ctx, o, cache)
			if err == nil {
				return e, nil
			}
			if errors.Is(err, wazy.ErrCompilationCacheCorrupt) {
				os.RemoveAll(dir)
			}
		}
	}
	switch {
	case err != nil:
		o.Progress(fmt.Sprintf("Preparing the PDF reader, some seconds at each start, because nothing can be kept: %v. Name a cache folder to avoid it.", err))
	case dir == "":
		o.Progress("Preparing the PDF reader, some seconds at each start without a cache folder.")
	default:
		o.Progress("Preparing the PDF reader for this computer, some seconds, only this once.")
	}
	start := time.Now()
	cache := wazy.NewCompilationCache()
	if dir != "" {
		if kept, err := wazy.NewCompilationCacheWithDir(dir); err == nil {
			cache = kept
		}
	}
	e, err := newEngine(ctx, o, cache)
	if err != nil {
		return nil, fmt.Errorf("prepare the PDF reader: %w", err)
	}
	o.Progress(fmt.Sprintf("The PDF reader is ready after %.1f s.", time.Since(start).Seconds()))
	return e, nil
}

// cacheFolder is the folder for compiled code of this very module and version of this program; "" for none.
func cacheFolder(dir string) (string, error) {
	if dir == "-" {
		return "", nil
	}
	if dir == "" {
		user, err := os.UserCacheDir()
		if err != nil {
			return "", err
		}
		dir = filepath.Join(user, "sixteen")
	}
	sum := sha256.Sum256(packed)
	folder := filepath.Join(dir, "pdfium-"+hex.EncodeToString(sum[:6]))
	return folder, os.MkdirAll(folder, 0o700)
}

// newEngine compiles PDFium, or loads it from the cache.
func newEngine(ctx context.Context, o Options, cache wazy.CompilationCache) (*Engine, error) {
	config := wazy.NewRuntimeConfig().
		WithCoreFeatures(api.CoreFeaturesV2 | api.CoreFeatureExceptionHandling).
		WithMemoryLimitPages(memoryPages).
		WithCompilationCache(cache)
	ctx = api.WithCompilationWorkers(ctx, runtime.NumCPU())
	e := &Engine{options: o, runtime: wazy.NewRuntimeWithConfig(ctx, config)}
	err := func() (err error) {
		if _, err := wasi_snapshot_preview1.Instantiate(ctx, e.runtime); err != nil {
			return err
		}
		pdfium, err := module()
		if err != nil {
			return err
		}
		if e.compiled, err = e.runtime.CompileModule(ctx, pdfium); err != nil {
			return err
		}
		return instantiateHost(ctx, e.runtime, e.compiled)
	}()
	if err != nil {
		e.runtime.Close(ctx)
		return nil, err
	}
	return e, nil
}

// instantiateHost gives PDFium the functions that it asks of its host. All but one would only be called for features
// that are never switched on (files, timers, form callbacks); if one is, the call fails.
func instantiateHost(ctx context.Context, r wazy.Runtime, compiled wazy.CompiledModule) error {
	host := r.NewHostModuleBuilder("env")
	for _, f := range compiled.ImportedFunctions() {
		module, name, _ := f.Import()
		if module != "env" {
			continue
		}
		call := func(context.Context, api.Module, []uint64) { panic("PDFium asks its host for " + name) }
		if name == "emscripten_notify_memory_growth" {
			call = func(context.Context, api.Module, []uint64) {}
		}
		host.NewFunctionBuilder().WithGoModuleFunction(api.GoModuleFunc(call), f.ParamTypes(), f.ResultTypes()).Export(name)
	}
	_, err := host.Instantiate(ctx)
	return err
}

// Close frees the engine. Documents still open can no longer be used.
func (e *Engine) Close() error {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.closed, e.idle = true, nil
	return e.runtime.Close(context.Background())
}

// take returns an idle instance or a new one.
func (e *Engine) take(ctx context.Context) (*instance, error) {
	e.mu.Lock()
	if n := len(e.idle); n > 0 {
		in := e.idle[n-1]
		e.idle = e.idle[:n-1]
		e.mu.Unlock()
		return in, nil
	}
	closed := e.closed
	e.mu.Unlock()
	if closed {
		return nil, fmt.Errorf("the PDF reader is closed")
	}
	return newInstance(ctx, e.runtime, e.compiled)
}

// idleMemory is the most memory, in bytes, with which an instance is kept for another document: memory that a
// WebAssembly module took is never given back.
const idleMemory = 64 << 20

// give returns an instance after use. One that failed or grew large is closed.
func (e *Engine) give(in *instance) {
	e.mu.Lock()
	defer e.mu.Unlock()
	if in.failed == nil && in.memory.Size() <= idleMemory && len(e.idle) < e.options.Idle && !e.closed {
		e.idle = append(e.idle, in)
		return
	}
	in.close()
}
