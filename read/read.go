// Package read turns a document (PDF, scan, HTML, DOCX, text) into a sheet.Sheet.
//
//	bytes ─► pdf | ocr | html | docx | text ─► []page.Page ─► layout (lines, cells, order) ─► facts ─► sheet.Sheet
//
// It knows nothing of rules, storage or the web. What could not be read is said in Sheet.Problems, never guessed.
package read
