package printable_test

import (
	"testing"

	"github.com/pronate/pronate/internal/printable"
	"github.com/stretchr/testify/require"
)

func TestText(t *testing.T) {
	for text, want := range map[string]string{
		"":             "",
		"left thigh_l": "left thigh_l",
		"左ひざ":          "左ひざ",
		"a\nb\tc\x1b[": `a\nb\tc\x1b[`,
		"\xff":         "\uFFFD",
		"a\u2028b":     `a\u2028b`,
		"'quoted'":     "'quoted'",
	} {
		require.Equal(t, want, printable.Text(text))
	}
}
