package shelf

import (
	"crypto/rand"
	"encoding/binary"
	"time"
)

// idLetters are the digits of an ID in ascending order, without those that are mistaken for others (i, l, o, u).
const idLetters = "0123456789abcdefghjkmnpqrstvwxyz"

// idEpoch is second 0 of the IDs.
var idEpoch = time.Date(2020, 1, 1, 0, 0, 0, 0, time.UTC)

// newID makes an ID of 20 letters and digits: 35 bits of seconds, so that IDs sort roughly by age, then 65 random bits, so
// that none can be guessed. Nothing relies on the order: clocks jump.
func newID(now time.Time) string {
	var id [20]byte
	seconds := uint64(max(0, now.Unix()-idEpoch.Unix())) & (1<<35 - 1)
	for i := 6; i >= 0; i-- {
		id[i] = idLetters[seconds&31]
		seconds >>= 5
	}
	var random [16]byte
	rand.Read(random[:])
	hi, lo := binary.BigEndian.Uint64(random[:8]), binary.BigEndian.Uint64(random[8:])
	for i := 7; i < 20; i++ {
		id[i] = idLetters[lo&31]
		lo = lo>>5 | hi<<59
		hi >>= 5
	}
	return string(id[:])
}
