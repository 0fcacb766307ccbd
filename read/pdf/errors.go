package pdf

import (
	"bytes"
	"errors"
	"fmt"
)

// Errors of Open, to be asked for with errors.Is. The message of the error returned says more, and what to do.
var (
	ErrEmpty        = errors.New("the file is empty")
	ErrNotPDF       = errors.New("this is not a PDF file")
	ErrEncrypted    = errors.New("the PDF is locked with a password")
	ErrDamaged      = errors.New("the PDF is damaged")
	ErrTooLarge     = errors.New("the PDF is too large")
	ErrTooManyPages = errors.New("the PDF has too many pages")
)

// check finds what can be said of a file before it is parsed.
func check(data []byte, limit int) error {
	if len(data) == 0 {
		return fmt.Errorf("%w: download or scan it again", ErrEmpty)
	}
	if len(data) > limit {
		return fmt.Errorf("%w: %d MB, where at most %d MB are read; print only the sheet's own pages to a new PDF, or scan at 300 dpi in grey",
			ErrTooLarge, (len(data)+1<<20-1)>>20, limit>>20)
	}
	head := data[:min(len(data), 1024)]
	if !bytes.Contains(head, []byte("%PDF-")) {
		return fmt.Errorf("%w: %s", ErrNotPDF, lookedLike(head))
	}
	return nil
}

// lookedLike names what the first bytes of a file that is no PDF are, and what to do with it.
func lookedLike(head []byte) string {
	start := bytes.ToLower(bytes.TrimLeft(head, "\xef\xbb\xbf \t\r\n"))
	switch {
	case bytes.HasPrefix(start, []byte("<!doctype html")), bytes.HasPrefix(start, []byte("<html")):
		return "it is a web page, perhaps the site's error or log-in page; open it in a browser and save the sheet itself"
	case bytes.HasPrefix(head, []byte("PK\x03\x04")):
		return "it is a ZIP or Office file; give it the ending .docx if it is a Word document"
	case bytes.HasPrefix(head, []byte("\xff\xd8\xff")), bytes.HasPrefix(head, []byte("\x89PNG")), bytes.HasPrefix(start, []byte("ii*\x00")), bytes.HasPrefix(start, []byte("mm\x00*")):
		return "it is a picture; give it the ending of its kind (.jpg, .png, .tif) to have it read as a scan"
	case bytes.HasPrefix(head, []byte("\xd0\xcf\x11\xe0")):
		return "it is an old Office file; save it as PDF or .docx first"
	}
	return "it does not begin as one; download it again from the supplier"
}
