package read

import (
	"bytes"
	"unicode/utf8"
)

// Format recognises the kind of a document by its first bytes: "pdf", "html", "docx", "image", "text", or in words what
// else it looks like.
func Format(data []byte) string {
	head := data[:min(len(data), 1024)]
	start := bytes.ToLower(bytes.TrimLeft(head, "\xef\xbb\xbf \t\r\n"))
	switch {
	case len(data) == 0:
		return "an empty file"
	case bytes.Contains(head, []byte("%PDF-")):
		return "pdf"
	case bytes.HasPrefix(start, []byte("<!doctype html")), bytes.HasPrefix(start, []byte("<html")), bytes.HasPrefix(start, []byte("<?xml")) && bytes.Contains(start, []byte("<html")):
		return "html"
	case bytes.HasPrefix(head, []byte("PK\x03\x04")) && bytes.Contains(data, []byte("word/document.xml")):
		return "docx"
	case bytes.HasPrefix(head, []byte("\xff\xd8\xff")), bytes.HasPrefix(head, []byte("\x89PNG")), bytes.HasPrefix(head, []byte("II*\x00")), bytes.HasPrefix(head, []byte("MM\x00*")):
		return "image"
	case bytes.HasPrefix(head, []byte("PK\x03\x04")):
		return "a ZIP archive"
	case bytes.HasPrefix(head, []byte("\xd0\xcf\x11\xe0")):
		return "an old Office file"
	case bytes.HasPrefix(head, []byte("\xff\xfe")), bytes.HasPrefix(head, []byte("\xfe\xff")):
		return "text" // UTF-16
	case utf8.Valid(data[:len(data)-trailing(data)]) && bytes.IndexByte(head, 0) < 0, printable(data):
		return "text"
	}
	return "an unknown kind of file"
}

// trailing is the length of a cut character at the end.
func trailing(data []byte) int {
	for n := 1; n < 4 && n <= len(data); n++ {
		if utf8.RuneStart(data[len(data)-n]) {
			if utf8.FullRune(data[len(data)-n:]) {
				return 0
			}
			return n
		}
	}
	return 0
}

// printable tells whether bytes are text in an encoding of one byte per character: no control characters but those that
// set lines, and mostly letters of the basic alphabet.
func printable(data []byte) bool {
	plain := 0
	for _, c := range data {
		switch {
		case c < ' ' && c != '\t' && c != '\n' && c != '\r' && c != '\f' || c == 0x7f:
			return false
		case c < 0x80:
			plain++
		}
	}
	return 10*plain > 8*len(data)
}
