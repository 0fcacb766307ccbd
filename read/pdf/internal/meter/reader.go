package meter

import (
	"encoding/binary"
	"errors"
	"fmt"
)

// reader takes the parts of a module from the front of b. After an error it returns zeros.
type reader struct {
	b   []byte
	err error
}

var errShort = errors.New("the module ends in the middle of something")

func (r *reader) byte() byte {
	if b := r.bytes(1); len(b) == 1 {
		return b[0]
	}
	return 0
}

func (r *reader) bytes(n uint64) []byte {
	if r.err != nil || n > uint64(len(r.b)) {
		r.fail(errShort)
		return nil
	}
	b := r.b[:n]
	r.b = r.b[n:]
	return b
}

// uint takes an unsigned LEB128 number.
func (r *reader) uint() uint64 {
	v, n := binary.Uvarint(r.b)
	if n <= 0 {
		r.fail(errShort)
		return 0
	}
	r.bytes(uint64(n))
	return v
}

// skip passes over a LEB128 number of any sign and size.
func (r *reader) skip() {
	for r.byte()&0x80 != 0 {
	}
}

func (r *reader) fail(err error) {
	if r.err == nil {
		r.err = err
	}
	r.b = nil
}

const opLoop = 0x03

// instruction takes one instruction with its operands and returns its first byte.
// The operands are those of the WebAssembly core specification 3.0, "Binary Format, Instructions".
func (r *reader) instruction() byte {
	op := r.byte()
	switch {
	case op == 0x02 || op == opLoop || op == 0x04: // block, loop, if: block type
		r.skip()
	case op == 0x08 || op == 0x0c || op == 0x0d || op == 0x10: // throw, br, br_if, call: index
		r.uint()
	case op == 0x0e: // br_table
		for range r.uint() + 1 {
			r.uint()
		}
	case op == 0x11: // call_indirect: type, table
		r.uint()
		r.uint()
	case op == 0x1c: // select with types
		r.bytes(r.uint())
	case op == 0x1f: // try_table
		r.tryTable()
	case op >= 0x20 && op <= 0x26: // locals, globals, table.get, table.set
		r.uint()
	case op >= 0x28 && op <= 0x3e: // loads and stores: alignment, offset
		r.uint()
		r.uint()
	case op == 0x3f || op == 0x40 || op == 0x41 || op == 0x42: // memory.size, memory.grow, i32.const, i64.const
		r.skip()
	case op == 0x43:
		r.bytes(4)
	case op == 0x44:
		r.bytes(8)
	case op == 0xd0 || op == 0xd2: // ref.null, ref.func
		r.skip()
	case op == 0xfc:
		r.extended()
	case op == 0xfd:
		r.vector()
	case op <= 0x01 || op == 0x05 || op == 0x0a || op == 0x0b || op == 0x0f || op == 0x1a || op == 0x1b || op == 0xd1 ||
		op >= 0x45 && op <= 0xc4: // without operands
	default:
		r.fail(fmt.Errorf("instruction %#02x is not understood", op))
	}
	return op
}

// tryTable takes the block type and the catch clauses of a try_table.
func (r *reader) tryTable() {
	r.skip()
	for range r.uint() {
		if kind := r.byte(); kind < 2 { // catch, catch_ref name a tag
			r.uint()
		}
		r.uint()
	}
}

// extended takes the rest of an instruction that begins with 0xfc.
func (r *reader) extended() {
	switch op := r.uint(); {
	case op <= 7: // saturating truncation
	case op == 9 || op == 11 || op == 13 || op >= 15 && op <= 17: // data.drop, memory.fill, elem.drop, table.grow/size/fill
		r.uint()
	case op == 8 || op == 10 || op == 12 || op == 14: // memory.init, memory.copy, table.init, table.copy
		r.uint()
		r.uint()
	default:
		r.fail(fmt.Errorf("instruction 0xfc %#02x is not understood", op))
	}
}

// vector takes the rest of an instruction that begins with 0xfd.
func (r *reader) vector() {
	switch op := r.uint(); {
	case op <= 11 || op == 92 || op == 93: // loads and stores
		r.uint()
		r.uint()
	case op == 12 || op == 13: // v128.const, shuffle
		r.bytes(16)
	case op >= 21 && op <= 34: // lanes
		r.byte()
	case op >= 84 && op <= 91: // loads and stores of lanes
		r.uint()
		r.uint()
		r.byte()
	case op > 0x113:
		r.fail(fmt.Errorf("instruction 0xfd %#02x is not understood", op))
	}
}
