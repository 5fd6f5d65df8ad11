package doors

import (
	"fmt"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/num/quat"
)

func (q bits64) MarshalText() ([]byte, error) { return numerals(q[:], 64), nil }
func (q bits32) MarshalText() ([]byte, error) { return numerals(q.double(), 32), nil }

func (q *bits64) UnmarshalText(text []byte) error {
	return eachNumber(text, 64, func(i int, x float64) { q[i] = x })
}

func (q *bits32) UnmarshalText(text []byte) error {
	return eachNumber(text, 32, func(i int, x float64) { q[i] = float32(x) })
}

// numerals are the shortest that are read back to the same bits.
func numerals(numbers []float64, size int) (text []byte) {
	for i, x := range numbers {
		if i > 0 {
			text = append(text, ' ')
		}
		text = strconv.AppendFloat(text, x, 'g', -1, size)
	}
	return text
}

// eachNumber reads four numbers.
func eachNumber(text []byte, size int, f func(i int, x float64)) error {
	words := strings.Fields(string(text))
	if len(words) != 4 {
		return fmt.Errorf("%d words, expected 4 numbers", len(words))
	}
	for i, word := range words {
		x, err := strconv.ParseFloat(word, size)
		if err != nil {
			return err
		}
		f(i, x)
	}
	return nil
}

func (q bits32) double() []float64 {
	return []float64{float64(q[0]), float64(q[1]), float64(q[2]), float64(q[3])}
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
