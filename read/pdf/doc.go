// Package pdf reads the pages of a PDF: words with their places, ruling lines, pictures and drawings; and renders pages.
//
//	bytes ─► Engine.Open ─► Document ─► Page(i): characters ─► words
//	                                             objects    ─► rules, images
//	                                             forms      ─► drawn into the page first
//	                                 └► Render(i, dpi): a picture, for recognition and for showing evidence
//
// The parser is PDFium, compiled to WebAssembly and run inside this process by wazy: no cgo, no files, no network, its
// memory bounded, its work counted (see internal/meter). A page that crashes it or that needs more than its share of
// work loses only that page. An Engine compiles PDFium once per computer and keeps the result in the cache folder.
package pdf

//go:generate go run ./internal/meter/pdfium
