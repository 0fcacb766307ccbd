package label

import (
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"strings"
	"testing"
)

// A small file that says it is a picture of 3600 million pixels is refused by what it says, before anything is unpacked.
func TestHugePictureIsRefused(t *testing.T) {
	header := append([]byte("IHDR"), 0, 0, 0xea, 0x60, 0, 0, 0xea, 0x60, 8, 2, 0, 0, 0) // 60000 × 60000, 8 bits, colour
	var file bytes.Buffer
	file.WriteString("\x89PNG\r\n\x1a\n\x00\x00\x00\x0d")
	file.Write(header)
	if err := binary.Write(&file, binary.BigEndian, crc32.ChecksumIEEE(header)); err != nil {
		t.Fatal(err)
	}
	if _, err := Read(t.Context(), file.Bytes(), Options{}); !errors.Is(err, ErrPicture) || !strings.Contains(err.Error(), "60000 × 60000 pixels") {
		t.Errorf("%v", err)
	}
}
