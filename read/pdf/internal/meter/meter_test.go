package meter

import (
	"context"
	"testing"

	"github.com/samyfodil/wazy"
	"github.com/samyfodil/wazy/api"
)

// endless is a module with the functions spin (a loop without end) and four (returns 4), in the binary format of the
// WebAssembly core specification.
var endless = []byte("\x00asm\x01\x00\x00\x00" +
	"\x00\x05\x04name" + // a custom section
	"\x01\x08\x02\x60\x00\x00\x60\x00\x01\x7f" + // types: () → (), () → i32
	"\x03\x03\x02\x00\x01" + // functions of types 0 and 1
	"\x06\x06\x01\x7f\x01\x41\x00\x0b" + // a global of its own
	"\x07\x0f\x02\x04spin\x00\x00\x04four\x00\x01" + // exports
	"\x0a\x0e\x02\x07\x00\x03\x40\x0c\x00\x0b\x0b\x04\x00\x41\x04\x0b") // bodies: loop br 0 end; i32.const 4

func TestRewrittenLoopsStop(t *testing.T) {
	rewritten, err := Rewrite(endless)
	if err != nil {
		t.Fatal(err)
	}
	ctx := context.Background()
	r := wazy.NewRuntime(ctx)
	defer r.Close(ctx)
	m, err := r.Instantiate(ctx, rewritten)
	if err != nil {
		t.Fatal(err)
	}
	fuel := m.ExportedGlobal(Fuel).(api.MutableGlobal)
	fuel.Set(1000)
	if got, err := m.ExportedFunction("four").Call(ctx); err != nil || got[0] != 4 {
		t.Errorf("four returns %v, %v", got, err)
	}
	if fuel.Get() != 1000 {
		t.Errorf("a function without loops took %d of the fuel", 1000-fuel.Get())
	}
	if _, err := m.ExportedFunction("spin").Call(ctx); err == nil {
		t.Error("the endless loop ended without an error")
	}
	if fuel.Get() != 0 {
		t.Errorf("%d is left of the fuel", fuel.Get())
	}
}

func TestRewriteRefusesWhatItDoesNotKnow(t *testing.T) {
	for name, m := range map[string][]byte{
		"no module":           []byte("%PDF-1.7 and so on"),
		"cut off":             endless[:len(endless)-3],
		"unknown instruction": append(append([]byte{}, endless[:len(endless)-4]...), 0x00, 0xef, 0x04, 0x0b),
	} {
		if _, err := Rewrite(m); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}
