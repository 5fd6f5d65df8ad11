package doors

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/num/quat"
)

func (q bits64) MarshalText() ([]byte, error) {
	words := make([]string, len(q))
	for i, x := range q {
		words[i] = fmt.Sprintf("%016x", math.Float64bits(x))
	}
	return []byte(strings.Join(words, " ")), nil
}

func (q *bits64) UnmarshalText(text []byte) error {
	return eachWord(text, 64, func(i int, word uint64) { q[i] = math.Float64frombits(word) })
}

func (q bits32) MarshalText() ([]byte, error) {
	words := make([]string, len(q))
	for i, x := range q {
		words[i] = fmt.Sprintf("%08x", math.Float32bits(x))
	}
	return []byte(strings.Join(words, " ")), nil
}

func (q *bits32) UnmarshalText(text []byte) error {
	return eachWord(text, 32, func(i int, word uint64) { q[i] = math.Float32frombits(uint32(word)) })
}

// eachWord reads four words in hexadecimal, each with all of its digits.
func eachWord(text []byte, size int, f func(i int, word uint64)) error {
	words := strings.Fields(string(text))
	if len(words) != 4 {
		return fmt.Errorf("%d words, expected 4", len(words))
	}
	for i, word := range words {
		x, err := strconv.ParseUint(word, 16, size)
		if err != nil || len(word) != size/4 {
			return fmt.Errorf("%q, expected %d hexadecimal digits", word, size/4)
		}
		f(i, x)
	}
	return nil
}

func (q bits64) number() quat.Number {
	return quat.Number{Real: q[3], Imag: q[0], Jmag: q[1], Kmag: q[2]}
}

func bitsOf(q quat.Number) bits64 { return bits64{q.Imag, q.Jmag, q.Kmag, q.Real} }

// single rounds to the nearest numbers of single precision.
func (q bits64) single() (out bits32) {
	for i, x := range q {
		out[i] = float32(x)
	}
	return out
}
