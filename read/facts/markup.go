package facts

import (
	"html"
	"regexp"
	"strings"
)

// tag matches a tag of a page that was printed as text. "< 5" and "<0.1 %" are none.
var tag = regexp.MustCompile(`(?i)</?(?:br|p|b|i|u|em|strong|span|div|font|sup|sub|li|ul|ol|td|tr|table|small|a)(?:\s[^<>]*=[^<>]*)?\s*/?>`)

// plainText is a text without the tags and character references that some programs print in place of what they stand for:
// "Quay Works<br/>Ltd", "Clear &amp; Hard". A tag that breaks the line becomes a blank.
func plainText(s string) string {
	if strings.ContainsRune(s, '<') {
		s = tag.ReplaceAllStringFunc(s, func(t string) string {
			switch strings.ToLower(strings.Trim(t, "</ >")) {
			case "b", "i", "u", "em", "strong", "sup", "sub", "small", "span":
				return ""
			}
			return " "
		})
		s = strings.Join(strings.Fields(s), " ")
	}
	if strings.ContainsRune(s, '&') && strings.ContainsRune(s, ';') {
		s = html.UnescapeString(s)
	}
	return strings.TrimSpace(s)
}
