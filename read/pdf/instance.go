package pdf

import (
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"math"

	"github.com/samyfodil/wazy"
	"github.com/samyfodil/wazy/api"

	"sixteen/read/pdf/internal/meter"
)

// instance is one running copy of PDFium with its own memory. Its functions are those of PDFium's public C headers
// (fpdfview.h, fpdf_text.h, fpdf_edit.h, fpdf_annot.h, fpdf_formfill.h, fpdf_flatten.h); a handle is an address in its
// memory. After a failure every call does nothing and returns 0, so callers need to look at failed only at the end.
type instance struct {
	module  api.Module
	memory  api.Memory
	fuel    api.MutableGlobal
	calls   map[string]api.Function
	stack   [16]uint64
	scratch uint64 // address of scratchSize bytes for results
	failed  error
}

const scratchSize = 4096

var (
	errWork   = errors.New("it takes more work than a page may take")
	errCrash  = errors.New("the PDF reader failed on it")
	errMemory = errors.New("it needs more memory than a document may take")
)

func newInstance(ctx context.Context, r wazy.Runtime, compiled wazy.CompiledModule) (*instance, error) {
	module, err := r.InstantiateModule(ctx, compiled, wazy.NewModuleConfig().WithName("").WithStartFunctions())
	if err != nil {
		return nil, fmt.Errorf("start the PDF reader: %w", err)
	}
	fuel, ok := module.ExportedGlobal(meter.Fuel).(api.MutableGlobal)
	if !ok {
		return nil, fmt.Errorf("start the PDF reader: its module is not metered")
	}
	in := &instance{module: module, memory: module.Memory(), fuel: fuel, calls: make(map[string]api.Function)}
	in.refuel(1e9)
	in.call("_initialize")
	in.call("FPDF_InitLibrary")
	in.scratch = in.call("malloc", scratchSize)
	if in.failed != nil {
		return nil, fmt.Errorf("start the PDF reader: %w", in.failed)
	}
	return in, nil
}

func (in *instance) close() { in.module.Close(context.Background()) }

// refuel sets how many rounds of loops the following calls may take together.
func (in *instance) refuel(rounds int64) { in.fuel.Set(uint64(rounds)) }

// call calls an exported function. Parameters and result are WebAssembly values; a double is its bits.
func (in *instance) call(name string, params ...uint64) uint64 {
	return in.invoke(in.function(name), params...)
}

// function finds an exported function, for calling it many times.
func (in *instance) function(name string) api.Function {
	f := in.calls[name]
	if f == nil {
		f = in.module.ExportedFunction(name)
		if f == nil {
			panic("pdf: PDFium has no function " + name) // a slip in this package: the module is part of it
		}
		in.calls[name] = f
	}
	return f
}

// long calls a function that may take long: the end of ctx ends it, and with it the instance.
func (in *instance) long(ctx context.Context, name string, params ...uint64) uint64 {
	return in.run(ctx, in.function(name), params)
}

func (in *instance) invoke(f api.Function, params ...uint64) uint64 {
	return in.run(context.Background(), f, params)
}

func (in *instance) run(ctx context.Context, f api.Function, params []uint64) uint64 {
	if in.failed != nil {
		return 0
	}
	in.stack[0] = 0
	copy(in.stack[:], params)
	if err := f.CallWithStack(ctx, in.stack[:]); err != nil {
		in.fail(err)
		return 0
	}
	return in.stack[0]
}

// fail records why the instance can no longer be used.
func (in *instance) fail(err error) {
	switch {
	case in.fuel.Get() == 0:
		in.failed = errWork
	case in.memory.Size() > (memoryPages<<16)*9/10:
		in.failed = errMemory
	default:
		in.failed = fmt.Errorf("%w (%.200v)", errCrash, err)
	}
}

// int calls a function whose result is a C int.
func (in *instance) int(name string, params ...uint64) int {
	return int(int32(in.call(name, params...)))
}

// put copies bytes into new memory of the instance; 0 when there is no room.
func (in *instance) put(b []byte) uint64 {
	p := in.call("malloc", uint64(max(len(b), 1)))
	if p == 0 || !in.memory.Write(uint32(p), b) {
		if in.failed == nil {
			in.failed = errMemory
		}
		return 0
	}
	return p
}

func (in *instance) free(p uint64) {
	if p != 0 {
		in.call("free", p)
	}
}

// out is the i-th 8-byte slot of the scratch memory, as a place for a result.
func (in *instance) out(i int) uint64 { return in.scratch + uint64(8*i) }

// outFloats reads n floats that lie one behind the other from the first slot on.
func (in *instance) outFloats(dst []float64) {
	b, ok := in.memory.Read(uint32(in.scratch), uint32(4*len(dst)))
	for i := range dst {
		dst[i] = 0
		if ok {
			dst[i] = finite(float64(math.Float32frombits(binary.LittleEndian.Uint32(b[4*i:]))))
		}
	}
}

// outDoubles reads doubles that lie one behind the other from the first slot on.
func (in *instance) outDoubles(dst []float64) {
	b, ok := in.memory.Read(uint32(in.scratch), uint32(8*len(dst)))
	for i := range dst {
		dst[i] = 0
		if ok {
			dst[i] = finite(math.Float64frombits(binary.LittleEndian.Uint64(b[8*i:])))
		}
	}
}

// finite keeps lengths in a range that layout can compute with: broken files place things at infinity.
func finite(v float64) float64 {
	if math.IsNaN(v) {
		return 0
	}
	return max(-1e6, min(v, 1e6))
}
