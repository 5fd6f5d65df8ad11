package asset

import (
	"strings"
	"unicode"
)

// Bounds on what is looked at in a name; no honest one is longer.
const (
	longestName = 256 // bytes
	longestWord = 48  // runes
	longestRun  = 24  // bytes of a word taken for several
)

// splitName takes a name apart into lower-case words: at signs and spaces, at
// numbers, which are left out, where a capital begins a word (leftArm, LArm)
// and where the script changes.
func splitName(name string) []string {
	if len(name) > longestName {
		name = strings.ToValidUTF8(name[:longestName], "")
	}
	var words []string
	var word []rune
	flush := func() {
		if len(word) > 0 {
			words = append(words, plain(word))
			word = nil
		}
	}
	runes := []rune(name)
	for i, r := range runes {
		r = halfWidth(r)
		switch {
		case unicode.Is(unicode.Mn, r): // a combining accent
			continue
		case !unicode.IsLetter(r) && r != 'ー':
			flush()
			continue
		}
		if n := len(word); n > 0 {
			last := word[n-1]
			nextLower := i+1 < len(runes) && unicode.IsLower(runes[i+1])
			switch {
			case unicode.IsUpper(r) && (unicode.IsLower(last) || nextLower && unicode.IsUpper(last)),
				isLatin(r) != isLatin(last):
				flush()
			}
		}
		word = append(word, r)
	}
	flush()
	return words
}

// halfWidth maps the full-width forms of ASCII to ASCII.
func halfWidth(r rune) rune {
	if r >= '！' && r <= '～' {
		return r - '！' + '!'
	}
	return r
}

func isLatin(r rune) bool { return unicode.Is(unicode.Latin, r) }

// accents of the languages of the vocabulary.
var accents = strings.NewReplacer("ß", "ss", "æ", "ae", "œ", "oe", "á", "a", "à", "a", "â", "a", "ä", "a", "ã", "a", "å", "a",
	"ç", "c", "é", "e", "è", "e", "ê", "e", "ë", "e", "í", "i", "ì", "i", "î", "i", "ï", "i", "ñ", "n",
	"ó", "o", "ò", "o", "ô", "o", "ö", "o", "õ", "o", "ú", "u", "ù", "u", "û", "u", "ü", "u")

// plain is a word in lower case, without accents.
func plain(word []rune) string {
	if len(word) > longestWord {
		word = word[:longestWord]
	}
	return accents.Replace(strings.ToLower(string(word)))
}

// lookUp is what one word says: it may be two or more run together.
func lookUp(word string) meaning {
	d := dictionary()
	if m, ok := d[word]; ok {
		return m
	}
	runes := []rune(word)
	if len(runes) == 0 {
		return 0
	}
	if !isLatin(runes[0]) {
		return scan(runes)
	}
	m, _ := runTogether(word)
	return m
}

// runTogether takes a word for several without a gap, such as leftupperarm,
// lthigh or thighr, if all of it can be read so. Of the ways to read it the one
// with the longest first word is taken.
func runTogether(word string) (meaning, bool) {
	d := dictionary()
	if len(word) > longestRun {
		return 0, false
	}
	// reads[i] is what word[i:] says, -1 where it cannot be read.
	reads := make([]int64, len(word)+1)
	for i := len(word) - 1; i >= 0; i-- {
		reads[i] = -1
		for j := i + 1; j <= len(word); j++ {
			m, ok := d[word[i:j]]
			// Two letters are too few to tell a word within a word; single
			// ones are sides, at either end.
			short := j-i < 3 && !(j-i == 1 && (i == 0 || j == len(word)) && m&(saysLeft|saysRight) != 0)
			if ok && !short && reads[j] >= 0 && !(i == 0 && j == len(word)) {
				reads[i] = int64(m) | reads[j]
			}
		}
	}
	if reads[0] <= 0 {
		return 0, false
	}
	return meaning(reads[0]), true
}

// scan reads a script without gaps between words: the longest word at each
// place, passing over what it does not know.
func scan(runes []rune) (m meaning) {
	const longest = 5 // runes of the longest such word
	d := dictionary()
	for i := 0; i < len(runes); {
		step := 1
		for n := min(longest, len(runes)-i); n > 0; n-- {
			if says, ok := d[string(runes[i:i+n])]; ok {
				m |= says
				step = n
				break
			}
		}
		i += step
	}
	return m
}

// meaningOf is what all the words of a name say.
func meaningOf(words []string) (m meaning) {
	for i, word := range words {
		says := lookUp(word)
		// Two words for what other languages say in one.
		if word == "avant" && i+1 < len(words) && words[i+1] == "bras" {
			says = saysForearm
		}
		m |= says
	}
	return m
}
