package ocr

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"image/png"
	"os"
	"os/exec"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"

	"sixteen/read/page"
	"sixteen/sheet"
)

// ErrMissing tells that Tesseract, or a language of it, is not installed. Its text says how to get it.
var ErrMissing = errors.New("character recognition is not installed: on Debian or Ubuntu run 'sudo apt-get install tesseract-ocr tesseract-ocr-fra tesseract-ocr-deu tesseract-ocr-spa', elsewhere install Tesseract 4 or newer so that 'tesseract' is on the PATH")

// wanted are the languages asked for, by Tesseract's names, in the order of how often sheets use them.
var wanted = []string{"eng", "deu", "fra", "spa"}

// dpi is the resolution pages are recognised at; Tesseract's documentation asks for 300.
const dpi = 300

// Recogniser runs Tesseract. Use New; it may be used by several goroutines at once.
type Recogniser struct {
	program   string
	languages []string
	timeout   time.Duration
}

// New finds Tesseract and its languages. Without them it returns ErrMissing.
func New(ctx context.Context) (*Recogniser, error) {
	program, err := exec.LookPath("tesseract")
	if err != nil {
		return nil, ErrMissing
	}
	ctx, cancel := context.WithTimeout(ctx, 20*time.Second)
	defer cancel()
	out, err := exec.CommandContext(ctx, program, "--list-langs").CombinedOutput()
	if err != nil {
		return nil, fmt.Errorf("%w (it is there but does not answer: %v)", ErrMissing, err)
	}
	have := strings.Fields(string(out))
	languages := slices.DeleteFunc(slices.Clone(wanted), func(l string) bool { return !slices.Contains(have, l) })
	if len(languages) == 0 {
		return nil, fmt.Errorf("%w (it is there without any of the languages %s)", ErrMissing, strings.Join(wanted, ", "))
	}
	return &Recogniser{program: program, languages: languages, timeout: 2 * time.Minute}, nil
}

// MissingLanguages are the languages, by Tesseract's names, that sheets are written in and this Tesseract lacks.
func (r *Recogniser) MissingLanguages() []string {
	return slices.DeleteFunc(slices.Clone(wanted), func(l string) bool { return slices.Contains(r.languages, l) })
}

// Recognise returns p with the words read from its picture. Boxes are in points; where the picture was crooked they are
// those of the page made level, so that lines and columns are straight, and Shown is where the words stand in it. It fails when the page cannot be drawn, when Tesseract fails
// or takes over two minutes, and when ctx ends.
func (r *Recogniser) Recognise(ctx context.Context, p page.Page, render func(dpi float64) (image.Image, error)) (page.Page, error) {
	img, err := render(dpi)
	if err != nil {
		return p, err
	}
	straight, turn := straighten(img)
	straight = withoutLeaders(toGrey(straight))
	ctx, cancel := context.WithTimeout(ctx, r.timeout)
	defer cancel()
	tsv, err := r.run(ctx, straight, "3", r.languages)
	if err != nil {
		return p, err
	}
	found, err := parseTSV(tsv)
	if err != nil {
		return p, err
	}
	if found, err = r.secondLook(ctx, straight, found); err != nil {
		return p, err
	}
	p.Words, p.How = nil, sheet.ByOCR
	scale := 72.0 / dpi
	for _, w := range found {
		if mended, changed := mend(w.Text); changed {
			w.Was = w.Recognised()
			w.Text, w.Confidence = mended, w.Confidence*mendWorth
		}
		if turn != (turned{}) {
			w.Shown = scaled(turn.back(w.Box), scale)
		}
		w.Box = scaled(w.Box, scale)
		w.Size = (w.Box.Y1 - w.Box.Y0) * 1.1
		p.Words = append(p.Words, w)
	}
	return p, nil
}

func scaled(r sheet.Rect, k float64) sheet.Rect {
	return sheet.Rect{X0: r.X0 * k, Y0: r.Y0 * k, X1: r.X1 * k, Y1: r.Y1 * k}
}

// run gives the picture to Tesseract and returns its table. Mode is how it looks for lines: "3" finds columns and
// blocks, "6" takes the picture for one block. Nothing is written to disk.
func (r *Recogniser) run(ctx context.Context, img image.Image, mode string, languages []string) ([]byte, error) {
	var in, out, failure bytes.Buffer
	if err := png.Encode(&in, img); err != nil {
		return nil, err
	}
	cmd := exec.CommandContext(ctx, r.program, "stdin", "stdout", "-l", strings.Join(languages, "+"), "--dpi", strconv.Itoa(dpi), "--psm", mode, "tsv")
	cmd.Env = append(os.Environ(), "OMP_THREAD_LIMIT=1") // pages run side by side instead
	cmd.Stdin, cmd.Stdout, cmd.Stderr = &in, &out, &failure
	cmd.WaitDelay = 5 * time.Second
	if err := cmd.Run(); err != nil {
		if ctx.Err() != nil {
			return nil, fmt.Errorf("character recognition was stopped: %w", ctx.Err())
		}
		return nil, fmt.Errorf("character recognition failed: %v: %s", err, bytes.TrimSpace(failure.Bytes()))
	}
	return out.Bytes(), nil
}

// parseTSV reads Tesseract's table: one row per page, block, paragraph, line and word; only words are wanted.
func parseTSV(table []byte) ([]page.Word, error) {
	const columns = 12 // level page block par line word left top width height conf text
	var out []page.Word
	var top, bottom float64 // of the line of print
	lines := bufio.NewScanner(bytes.NewReader(table))
	lines.Buffer(make([]byte, 0, 64<<10), 1<<20)
	for n := 0; lines.Scan(); n++ {
		cells := strings.SplitN(lines.Text(), "\t", columns)
		if n == 0 || len(cells) < columns || cells[0] != "5" && cells[0] != "4" {
			continue
		}
		var at [4]float64
		for i := range at {
			v, err := strconv.ParseFloat(cells[6+i], 64)
			if err != nil {
				return nil, fmt.Errorf("character recognition gave a table that cannot be read, line %d: %w", n+1, err)
			}
			at[i] = v
		}
		if cells[0] == "4" {
			top, bottom = at[1], at[1]+at[3]
			continue
		}
		sure, err := strconv.ParseFloat(cells[10], 64)
		text := strings.TrimSpace(cells[11])
		if err != nil || sure < 0 || text == "" {
			continue
		}
		box := sheet.Rect{X0: at[0], Y0: at[1], X1: at[0] + at[2], Y1: at[1] + at[3]}
		if !strings.ContainsFunc(text, func(c rune) bool { return unicode.IsLetter(c) || unicode.IsDigit(c) }) && bottom > top {
			box.Y0, box.Y1 = min(box.Y0, top), max(box.Y1, bottom) // a dash is as low as its ink, and would be a line of its own
		}
		out = append(out, page.Word{Text: text, Box: box,
			Confidence: sure / 100, SpaceAfter: true})
	}
	return out, lines.Err()
}
