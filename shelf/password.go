package shelf

import (
	_ "embed"
	"fmt"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// Lengths of passwords.
const (
	minimum      = 10   // characters
	longestBytes = 1024 // so that hashing stays cheap
)

//go:embed passwords.txt
var passwordList string

// commonest are the words of passwords.txt.
var commonest = sync.OnceValue(func() map[string]bool {
	out := map[string]bool{}
	for _, line := range strings.Split(passwordList, "\n") {
		if line = strings.TrimSpace(line); line != "" && !strings.HasPrefix(line, "#") {
			out[line] = true
		}
	}
	return out
})

// composed is a password in the one form in which it is hashed, however a keyboard put its accents together (RFC 8265 §4
// asks for NFC; NIST SP 800-63B allows NFKC; from memory).
func composed(password string) string { return norm.NFKC.String(password) }

// acceptable fails with *Invalid for a password that is short, long, or among those that are tried first: the commonest
// ones with whatever stands before and after, the user's own name, the same few characters again and again, and rows of
// the keyboard (as NIST SP 800-63B asks for memorised secrets; from memory). name is the user's.
func acceptable(name, password string) error {
	n := utf8.RuneCountInString(password)
	switch {
	case n < minimum:
		return &Invalid{What: "The password is short.", Do: fmt.Sprintf("Use at least %d characters; several words are easy to remember.", minimum)}
	case len(password) > longestBytes:
		return &Invalid{What: "The password is too long.", Do: "Use at most 1000 characters."}
	}
	lower := strings.ToLower(password)
	plain := unleet(lower)
	noLetter := func(r rune) bool { return !unicode.IsLetter(r) }
	core := unleet(strings.TrimFunc(lower, noLetter))
	distinct := map[rune]bool{}
	for _, r := range plain {
		distinct[r] = true
	}
	switch {
	case commonest()[lower], commonest()[plain], commonest()[core], commonest()[strings.TrimFunc(plain, noLetter)], halves(core):
		return &Invalid{What: "This password is one of those that are tried first.", Do: "Use several words that do not belong together."}
	case len(distinct) < 5 || aRow(lower):
		return &Invalid{What: "This password is the same few characters, or a row of them.", Do: "Use several words that do not belong together."}
	case len(name) >= 3 && strings.Contains(lower, strings.ToLower(name)) && n < 2*minimum:
		return &Invalid{What: "The password holds the user's name.", Do: "Use several words that do not belong together and leave the name out."}
	}
	return nil
}

// halves tells whether a word is a common one written twice.
func halves(s string) bool {
	return len(s)%2 == 0 && len(s) > 0 && s[:len(s)/2] == s[len(s)/2:] && commonest()[s[:len(s)/2]]
}

// unleet takes the usual digits and signs for the letters they stand for.
func unleet(s string) string {
	return strings.NewReplacer("0", "o", "1", "i", "3", "e", "4", "a", "5", "s", "7", "t", "@", "a", "$", "s", "!", "i").Replace(s)
}

// aRow tells whether nearly every character follows the one before in the alphabet, among the digits or on the keyboard.
func aRow(s string) bool {
	rows := []string{"abcdefghijklmnopqrstuvwxyz", "01234567890", "qwertyuiop", "asdfghjkl", "zxcvbnm", "qwertzuiop", "azertyuiop", "qsdfghjklm", "yxcvbnm"}
	follows := func(a, b byte) bool {
		for _, row := range rows {
			pair, back := string([]byte{a, b}), string([]byte{b, a})
			if strings.Contains(row, pair) || strings.Contains(row, back) {
				return true
			}
		}
		return a == b
	}
	n := 0
	for i := 1; i < len(s); i++ {
		if follows(s[i-1], s[i]) {
			n++
		}
	}
	return n*10 >= (len(s)-1)*8
}
