// Package meter rewrites a WebAssembly module so that its work can be bounded: every loop counts down a global called
// Fuel each time round and traps when it is used up. The runtime's own way to stop a running module asks the host at
// every loop and doubles the time of a PDF page; counting costs a few percent, and the same input always stops at the
// same place.
//
//	original module ─► sections ─► one more global, exported ─► each function body with a count at each loop ─► module
//
// Only what the loops need is understood: the sections global, export and code, and the length of every instruction.
package meter

import (
	"bytes"
	"encoding/binary"
	"fmt"
)

// Fuel is the name under which the counter (a mutable 64-bit global) is exported. The host sets it before a call.
const Fuel = "fuel"

// Section numbers of the WebAssembly core specification, "Binary Format, Modules".
const (
	sectionCustom = 0
	sectionImport = 2
	sectionGlobal = 6
	sectionExport = 7
	sectionCode   = 10
)

// Rewrite returns the module with the counter. It leaves out custom sections (names, producers), which do no work.
// A module that uses an instruction unknown here is an error.
func Rewrite(module []byte) ([]byte, error) {
	if len(module) < 8 || string(module[:4]) != "\x00asm" {
		return nil, fmt.Errorf("not a WebAssembly module")
	}
	out := bytes.NewBuffer(module[:8:8])
	r := &reader{b: module[8:]}
	imported, fuel := uint64(0), uint64(0)
	for len(r.b) > 0 && r.err == nil {
		id, body := r.byte(), r.bytes(r.uint())
		var err error
		switch id {
		case sectionCustom:
			continue
		case sectionImport:
			imported, err = importedGlobals(body)
		case sectionGlobal:
			body, fuel = addGlobal(body, imported)
		case sectionExport:
			body = addExport(body, fuel)
		case sectionCode:
			body, err = meterCode(body, fuel)
		}
		if err != nil {
			return nil, err
		}
		out.WriteByte(id)
		out.Write(binary.AppendUvarint(nil, uint64(len(body))))
		out.Write(body)
	}
	return out.Bytes(), r.err
}

// importedGlobals counts the globals that come before the module's own.
func importedGlobals(section []byte) (uint64, error) {
	r := &reader{b: section}
	globals := uint64(0)
	for range r.uint() {
		r.bytes(r.uint())
		r.bytes(r.uint())
		switch kind := r.byte(); kind {
		case 0: // function
			r.uint()
		case 3: // global
			globals++
			r.bytes(2)
		default:
			return 0, fmt.Errorf("import of kind %d is not understood", kind)
		}
	}
	return globals, r.err
}

// addGlobal appends the counter and returns its index.
func addGlobal(section []byte, imported uint64) ([]byte, uint64) {
	r := &reader{b: section}
	n := r.uint()
	out := binary.AppendUvarint(nil, n+1)
	out = append(out, r.b...)
	out = append(out, 0x7e, 0x01)       // i64, mutable
	out = append(out, 0x42, 0x00, 0x0b) // i64.const 0, end
	return out, imported + n
}

func addExport(section []byte, fuel uint64) []byte {
	r := &reader{b: section}
	out := binary.AppendUvarint(nil, r.uint()+1)
	out = append(out, r.b...)
	out = binary.AppendUvarint(out, uint64(len(Fuel)))
	out = append(out, Fuel...)
	out = append(out, 3)
	return binary.AppendUvarint(out, fuel)
}

// count is the code at the head of a loop: trap when the counter is 0, else count down.
func count(fuel uint64) []byte {
	f := binary.AppendUvarint(nil, fuel)
	var c []byte
	c = append(append(c, 0x23), f...)     // global.get fuel
	c = append(c, 0x50)                   // i64.eqz
	c = append(c, 0x04, 0x40, 0x00, 0x0b) // if unreachable end
	c = append(append(c, 0x23), f...)     // global.get fuel
	c = append(c, 0x42, 0x01, 0x7d)       // i64.const 1, i64.sub
	return append(append(c, 0x24), f...)  // global.set fuel
}

func meterCode(section []byte, fuel uint64) ([]byte, error) {
	r := &reader{b: section}
	n := r.uint()
	out := binary.AppendUvarint(make([]byte, 0, len(section)*5/4), n)
	counting := count(fuel)
	for i := range n {
		body, err := meterBody(r.bytes(r.uint()), counting)
		if err != nil {
			return nil, fmt.Errorf("function %d of the module: %w", i, err)
		}
		out = binary.AppendUvarint(out, uint64(len(body)))
		out = append(out, body...)
	}
	return out, r.err
}

// meterBody copies the body of one function and puts counting behind the head of every loop.
func meterBody(body, counting []byte) ([]byte, error) {
	r := &reader{b: body}
	for range r.uint() { // locals
		r.uint()
		r.byte()
	}
	out := append(make([]byte, 0, len(body)*5/4), body[:len(body)-len(r.b)]...)
	for len(r.b) > 0 && r.err == nil {
		before := r.b
		op := r.instruction()
		out = append(out, before[:len(before)-len(r.b)]...)
		if op == opLoop {
			out = append(out, counting...)
		}
	}
	return out, r.err
}
