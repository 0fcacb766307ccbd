package substance

import (
	"archive/zip"
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// Bounds of what an imported table may be. The largest official tables known have about 5000 rows and 5 MB; the bounds
// leave room and keep a hostile file from filling the memory.
const (
	maxFile     = 64 << 20  // bytes of the file
	maxUnpacked = 256 << 20 // bytes of everything inside an XLSX
	maxGrowth   = 200       // how many times larger one part may become
	maxParts    = 4000
	maxRows     = 200_000
	maxColumns  = 256
	maxCell     = 32 << 10 // bytes of one cell; a spreadsheet allows 32 767 letters
	maxText     = 96 << 20 // bytes of all cells
)

// Grid is a table as read from a file: rows of cells without meaning. Row i of Rows stands in line Lines[i] of the file
// (spreadsheet row, or line of the CSV text), counted from 1.
type Grid struct {
	Sheet  string // name of the spreadsheet tab, empty for CSV
	Sheets []string
	Rows   [][]string
	Lines  []int
}

// ReadGrid reads an XLSX or CSV file. The kind is told from the content, not from a name. sheet chooses the tab of a
// spreadsheet by name; empty takes the first that holds at least two rows. CSV may be separated by comma, semicolon, tab
// or bar, and written in UTF-8, UTF-16 with mark, or Windows-1252. Files beyond the bounds of this package, encrypted
// spreadsheets and old binary ones (.xls) give an error that says what to do.
func ReadGrid(r io.Reader, sheet string) (Grid, error) {
	raw, err := io.ReadAll(io.LimitReader(r, maxFile+1))
	switch {
	case err != nil:
		return Grid{}, fmt.Errorf("reading the table: %w", err)
	case len(raw) > maxFile:
		return Grid{}, fmt.Errorf("the file is larger than %d MB; save only the sheet with the table and try again", maxFile>>20)
	case len(bytes.TrimSpace(raw)) == 0:
		return Grid{}, errors.New("the file is empty")
	case bytes.HasPrefix(raw, []byte("PK\x03\x04")):
		return readXLSX(raw, sheet)
	case bytes.HasPrefix(raw, []byte("\xd0\xcf\x11\xe0")):
		return Grid{}, errors.New("this is an encrypted or old binary spreadsheet (.xls); open it, remove the password, and save it as .xlsx or .csv")
	case bytes.HasPrefix(raw, []byte("%PDF")):
		return Grid{}, errors.New("this is a PDF; save the table as .xlsx or .csv")
	}
	return readCSV(raw)
}

// bounded collects rows within the bounds.
type bounded struct {
	Grid
	text int
}

func (b *bounded) add(line int, cells []string) error {
	if len(cells) > maxColumns {
		if strings.Join(cells[maxColumns:], "") != "" {
			return fmt.Errorf("row %d has more than %d columns; save only the table and try again", line, maxColumns)
		}
		cells = cells[:maxColumns]
	}
	if len(b.Rows) >= maxRows {
		return fmt.Errorf("the table has more than %d rows; split it", maxRows)
	}
	row := make([]string, len(cells))
	for i, c := range cells {
		if len(c) > maxCell {
			return fmt.Errorf("row %d, column %d holds more than %d KB of text; that is no table cell", line, i+1, maxCell>>10)
		}
		if b.text += len(c); b.text > maxText {
			return fmt.Errorf("the table holds more than %d MB of text; save only the sheet with the table", maxText>>20)
		}
		row[i] = strings.TrimSpace(strings.ToValidUTF8(c, "\uFFFD"))
	}
	b.Rows = append(b.Rows, row)
	b.Lines = append(b.Lines, line)
	return nil
}

func readXLSX(raw []byte, sheet string) (Grid, error) {
	z, err := zip.NewReader(bytes.NewReader(raw), int64(len(raw)))
	if err != nil {
		return Grid{}, fmt.Errorf("the spreadsheet is damaged (%w); save it again as .xlsx or .csv", err)
	}
	if err := checkParts(z); err != nil {
		return Grid{}, err
	}
	f, err := excelize.OpenReader(bytes.NewReader(raw), excelize.Options{UnzipSizeLimit: maxUnpacked, UnzipXMLSizeLimit: maxUnpacked, RawCellValue: true})
	if err != nil {
		return Grid{}, fmt.Errorf("the spreadsheet cannot be read (%w); save it again as .xlsx or .csv", err)
	}
	defer f.Close()
	names := f.GetSheetList()
	if sheet != "" {
		names = []string{sheet}
	}
	for _, name := range names {
		g, err := readSheet(f, name)
		if err != nil {
			return Grid{}, err
		}
		if len(g.Rows) >= 2 || sheet != "" {
			g.Sheets = f.GetSheetList()
			return g, nil
		}
	}
	return Grid{}, fmt.Errorf("no tab of the spreadsheet holds a table (tabs: %s)", strings.Join(f.GetSheetList(), ", "))
}

// checkParts refuses archives that unpack to far more than they are.
func checkParts(z *zip.Reader) error {
	if len(z.File) > maxParts {
		return fmt.Errorf("the spreadsheet consists of %d parts; more than %d are not read", len(z.File), maxParts)
	}
	var total uint64
	for _, p := range z.File {
		total += p.UncompressedSize64
		if total > maxUnpacked {
			return fmt.Errorf("the spreadsheet unpacks to more than %d MB; save only the sheet with the table as .csv", maxUnpacked>>20)
		}
		if p.UncompressedSize64 > 1<<20 && p.UncompressedSize64 > maxGrowth*max(1, p.CompressedSize64) {
			return fmt.Errorf("part %q of the spreadsheet unpacks to more than %d times its size; save the sheet as .csv", p.Name, maxGrowth)
		}
	}
	return nil
}

func readSheet(f *excelize.File, name string) (Grid, error) {
	rows, err := f.Rows(name)
	if err != nil {
		return Grid{}, fmt.Errorf("tab %q: %w (tabs: %s)", name, err, strings.Join(f.GetSheetList(), ", "))
	}
	defer rows.Close()
	b := bounded{Grid: Grid{Sheet: name}}
	for line := 1; rows.Next(); line++ {
		cells, err := rows.Columns()
		if err != nil {
			return Grid{}, fmt.Errorf("tab %q, row %d: %w", name, line, err)
		}
		if strings.Join(cells, "") == "" {
			continue
		}
		if err := b.add(line, cells); err != nil {
			return Grid{}, err
		}
	}
	return b.Grid, rows.Error()
}

func readCSV(raw []byte) (Grid, error) {
	text, err := decode(raw)
	if err != nil {
		return Grid{}, err
	}
	c := csv.NewReader(strings.NewReader(text))
	c.Comma = delimiter(text)
	c.FieldsPerRecord = -1
	c.LazyQuotes = true
	var b bounded
	for {
		cells, err := c.Read()
		if err == io.EOF {
			break
		}
		if err != nil {
			return Grid{}, fmt.Errorf("the text is no table: %w", err)
		}
		line, _ := c.FieldPos(0)
		if strings.TrimSpace(strings.Join(cells, "")) == "" {
			continue
		}
		if err := b.add(line, cells); err != nil {
			return Grid{}, err
		}
	}
	if len(b.Rows) < 2 {
		return Grid{}, errors.New("the file holds no table: want a header and at least one row, as .xlsx or .csv")
	}
	return b.Grid, nil
}

// decode brings text to UTF-8.
func decode(raw []byte) (string, error) {
	switch {
	case bytes.HasPrefix(raw, []byte("\xef\xbb\xbf")):
		raw = raw[3:]
	case bytes.HasPrefix(raw, []byte("\xff\xfe")), bytes.HasPrefix(raw, []byte("\xfe\xff")):
		out, err := unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewDecoder().Bytes(raw)
		if err != nil {
			return "", fmt.Errorf("the text is damaged UTF-16: %w; save it as UTF-8", err)
		}
		return string(out), nil
	}
	if bytes.IndexByte(raw, 0) >= 0 {
		return "", errors.New("this is neither text nor a spreadsheet; save the table as .xlsx or .csv")
	}
	if utf8.Valid(raw) {
		return string(raw), nil
	}
	out, err := charmap.Windows1252.NewDecoder().Bytes(raw)
	if err != nil {
		return "", fmt.Errorf("the text is neither UTF-8 nor Windows-1252: %w; save it as UTF-8", err)
	}
	return string(out), nil
}

// delimiter is the separator that the most of the first lines have equally often, outside quotes.
func delimiter(text string) rune {
	best, agree, often := ',', 0, 0
	for _, d := range []rune{'\t', ';', '|', ','} {
		same := map[int]int{} // how many lines have so many
		for _, n := range countPerLine(text, d, 20) {
			if n > 0 {
				same[n]++
			}
		}
		for n, lines := range same {
			if lines > agree || (lines == agree && n > often) {
				best, agree, often = d, lines, n
			}
		}
	}
	return best
}

// countPerLine counts d outside quotes in each of the first lines.
func countPerLine(text string, d rune, lines int) []int {
	out := []int{0}
	quoted := false
	for _, r := range text {
		switch {
		case r == '"':
			quoted = !quoted
		case r == d && !quoted:
			out[len(out)-1]++
		case r == '\n' && !quoted:
			if len(out) == lines {
				return out
			}
			out = append(out, 0)
		}
	}
	return out
}
