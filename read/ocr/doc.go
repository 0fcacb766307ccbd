// Package ocr reads the words of a page that is only a picture, with Tesseract, an external program that is found at run
// time.
//
//	picture of the page at 300 dpi ─► straightened ─► tesseract … tsv ─► words with boxes and confidence ─► page.Page
//
// Tesseract is Debian's tesseract-ocr with the languages eng, fra, deu and spa. Where it is missing, ErrMissing says how
// to get it, and the page stays unread.
package ocr
