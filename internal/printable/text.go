// Package printable makes texts from outside fit to print.
package printable

import (
	"strconv"
	"strings"
	"unicode"
)

// Text escapes control characters and bytes that are no text, so that a message
// or a row of a table stays on its line and tells the terminal nothing, whatever
// a file or a joint is called.
func Text(text string) string {
	var b strings.Builder
	for _, r := range text {
		if unicode.IsPrint(r) {
			b.WriteRune(r)
			continue
		}
		escaped := strconv.QuoteRune(r)
		b.WriteString(escaped[1 : len(escaped)-1])
	}
	return b.String()
}
