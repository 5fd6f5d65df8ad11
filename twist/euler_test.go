package twist_test

import (
	"math"
	"strings"
	"testing"

	"github.com/pronate/pronate/twist"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// euler composes the intrinsic sequence named by three letters: each rotation
// turns about an axis that the ones before have turned.
func euler(sequence string, angles [3]float64) quat.Number {
	q := number(1, 0, 0, 0)
	for i, letter := range sequence {
		q = quat.Mul(q, twist.About(map[rune]r3.Vec{'X': axisX, 'Y': axisY, 'Z': axisZ}[letter], angles[i]))
	}
	return q
}

// component returns q's component along the axis of a letter.
func component(q quat.Number, letter byte) float64 {
	return map[byte]float64{'X': q.Imag, 'Y': q.Jmag, 'Z': q.Kmag}[letter]
}

// unused is the letter that is not in a sequence of two different ones.
func unused(sequence string) byte {
	for _, letter := range "XYZ" {
		if !strings.ContainsRune(sequence, letter) {
			return byte(letter)
		}
	}
	return 0
}

// eulerGroups are the twelve sequences, by the signs in their closed forms,
// and the value of each at 10, 20, 30 degrees: real part, the components along
// the first and second letter, and along the third or unused one. The forms
// are the active ones of Henderson 1977, NASA TM-74839 (from memory).
var eulerGroups = []struct {
	sequences []string
	sign      float64
	want      [4]float64
}{
	{[]string{"XYZ", "YZX", "ZXY"}, 1, [4]float64{.943714364147, .127679440696, .144878125417, .268535822752}},
	{[]string{"XZY", "YXZ", "ZYX"}, -1, [4]float64{.951548524644, .038134576475, .189307857412, .239298337745}},
	{[]string{"XYX", "YZY", "ZXZ"}, 1, [4]float64{.925416578398, .336824088833, .171010071663, -.030153689607}},
	{[]string{"XZX", "YXY", "ZYZ"}, -1, [4]float64{.925416578398, .336824088833, .171010071663, .030153689607}},
}

func TestEulerValues(t *testing.T) {
	for _, group := range eulerGroups {
		for _, sequence := range group.sequences {
			q := euler(sequence, [3]float64{10 * degree, 20 * degree, 30 * degree})
			last := sequence[2]
			if u := unused(sequence); u != 0 {
				last = u
			}
			got := [4]float64{q.Real, component(q, sequence[0]), component(q, sequence[1]), component(q, last)}
			for i := range got {
				require.InDelta(t, group.want[i], got[i], printedTolerance, "%s, %d", sequence, i)
			}
		}
	}
}

func TestEulerForms(t *testing.T) {
	for _, angles := range [][3]float64{{0.1, 0.2, 0.3}, {-1, 2, 0.5}, {3, -0.7, -2}, {0, 1.5, 0}, {1.2, 0, 2.2}} {
		s1, c1 := math.Sincos(angles[0] / 2)
		s2, c2 := math.Sincos(angles[1] / 2)
		s3, c3 := math.Sincos(angles[2] / 2)
		sumS, sumC := math.Sincos((angles[0] + angles[2]) / 2)
		difS, difC := math.Sincos((angles[0] - angles[2]) / 2)
		for _, group := range eulerGroups {
			g := group.sign
			for _, sequence := range group.sequences {
				q := euler(sequence, angles)
				last, want := sequence[2], [4]float64{
					c1*c2*c3 - g*s1*s2*s3, s1*c2*c3 + g*c1*s2*s3, c1*s2*c3 - g*s1*c2*s3, c1*c2*s3 + g*s1*s2*c3,
				}
				if u := unused(sequence); u != 0 {
					last, want = u, [4]float64{c2 * sumC, c2 * sumS, s2 * difC, g * s2 * difS}
				}
				got := [4]float64{q.Real, component(q, sequence[0]), component(q, sequence[1]), component(q, last)}
				for i := range got {
					require.InDelta(t, want[i], got[i], componentTolerance, "%s, %d", sequence, i)
				}
			}
		}
	}
}
