package chain

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/pronate/pronate/rest"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// The numbers in this file are the same on every processor. Other ones are other
// solved bits: see DEVELOPERS.md, Releasing.

// hash is a short one of all bits.
func hash(t *testing.T, parts ...any) string {
	t.Helper()
	sum := sha256.New()
	for _, part := range parts {
		require.NoError(t, binary.Write(sum, binary.LittleEndian, part))
	}
	return hex.EncodeToString(sum.Sum(nil)[:8])
}

// source makes random numbers of a few sizes by integers alone, which are the same
// everywhere.
type source struct{ *rand.Rand }

func (s source) number() float64 { return float64(int64(s.Uint64())>>16) * 0x1p-47 }

func (s source) vec() r3.Vec { return r3.Vec{X: s.number(), Y: s.number(), Z: s.number()} }

func (s source) rotation() quat.Number {
	return quat.Number{Real: s.number(), Imag: s.number(), Jmag: s.number(), Kmag: s.number()}
}

func (s source) frame() rest.Frame { return rest.Frame{Position: s.vec(), Rotation: s.rotation()} }

// limb is one of the i-th kind, for a joint with these limits.
func (s source) limb(i int, limits [2][2]float64) Limb {
	l := Limb{
		Axis: s.vec(), Segments: MinSegments + i%5, Twist: Twist(i % 2), Ramp: Ramp(i / 2 % 2),
		AnchorRest: s.frame(), JointRest: s.frame(), TipRest: s.frame(),
		Field: Field(i % 5),
	}
	body := s.frame()
	out := r3.Vec{Z: float64(1 - i/4%2*2)} // right and left
	l.Range = rangeOf(limits, body.Direction(r3.Vec{X: 1}), body.Direction(r3.Vec{Y: 1}), body.Direction(out))
	if l.Field == Centred {
		l.Centre = Centre{Given, s.vec()}
	}
	return l
}

// TestSameBitsRanges: the middles of the ranges that come along, the solved fields
// over them, and the angles of directions all over, in a body that stands askew.
func TestSameBitsRanges(t *testing.T) {
	x, y, z := r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1}
	for _, c := range []struct {
		name                  string
		motion                Range
		middle, field, angles string
	}{
		{"hip", Hip(x, y, z), "f21c4a4546dbb448", "80c9818437344211", "2a8b0e85e7acd2bd"},
		{"shoulder", Shoulder(x, y, z), "06277fcf4df3e994", "571fb52bdcc98b71", "581d891ecfe60a62"},
		{"wrist", Wrist(x, y, z), "eeb6602503b47b7e", "28abfb7aecb5a13d", "a5f12b7caef0edd1"},
	} {
		var data [2][]byte
		for i, kind := range []Field{LeastRoll, Balanced} {
			limb := Limb{Axis: x, Range: c.motion, Field: kind}
			solver, err := NewSolver(limb)
			require.NoError(t, err)
			data[i], err = solver.field.MarshalBinary()
			require.NoError(t, err)
		}
		askew := c.motion.turned(quat.Number{Real: 3, Imag: -1, Jmag: 2, Kmag: 5})
		random := source{rand.New(rand.NewPCG(3, 5))}
		var angles []float64
		for range 200 {
			d := random.frame().Direction(x)
			flexion, abduction := askew.Angles(d)
			angles = append(angles, flexion, abduction, askew.Beyond(d))
		}
		got := []string{hash(t, c.motion.Middle()), hash(t, data[0], data[1]), hash(t, angles, askew.Middle(), askew.body())}
		require.Equal(t, []string{c.middle, c.field, c.angles}, got, c.name)
	}
}

// TestSameBitsSolvers: what is prepared for limbs of every kind, with frames,
// axes, centres and ranges all over the place, and what they solve.
func TestSameBitsSolvers(t *testing.T) {
	const poses = 16
	random := source{rand.New(rand.NewPCG(20, 26))}
	limits := [][2][2]float64{hipLimits, wristLimits, {{-0.7, 1.3}, {-0.2, 0.9}}}
	var sums []string
	for i := range 48 {
		s, err := NewSolver(random.limb(i, limits[i%len(limits)]))
		require.NoError(t, err)
		field, err := s.field.MarshalBinary()
		require.NoError(t, err)
		motion := []r3.Vec{s.motion.Down, s.motion.Forward, s.motion.Out}
		parts := []any{field, s.axis, s.field.Arc(), s.jointRest, s.anchorOffset, s.tipOffset, motion, s.own, s.tip}
		segments := make([]quat.Number, s.Segments())
		joints, tips := make([]float32, 4*poses), make([]float32, 4*poses)
		for j := range joints {
			joints[j], tips[j] = float32(random.number()), float32(random.number())
		}
		for j := range poses {
			joint, tip := single(joints[4*j:]), single(tips[4*j:])
			r := s.Solve(segments, joint, tip)
			pose := Pose{Anchor: random.frame(), Joint: random.frame()}
			parts = append(parts, segments, r.Twist, r.TipTwist, r.Condition, s.aimed(s.followed(&pose), &pose))
			segments = make([]quat.Number, s.Segments())
		}
		singles := make([]float32, 4*poses*s.Segments())
		_, err = NewBatch[float32](s).Solve(Quaternions(singles, s.Segments()), Quaternions(joints, 1), Quaternions(tips, 1), poses)
		require.NoError(t, err)
		sums = append(sums, hash(t, append(parts, singles)...))
	}
	require.Equal(t, "240603b7681e08a4", hash(t, []byte(strings.Join(sums, ""))), "%v", sums)
}

func single(xyzw []float32) quat.Number {
	return quat.Number{Real: float64(xyzw[3]), Imag: float64(xyzw[0]), Jmag: float64(xyzw[1]), Kmag: float64(xyzw[2])}
}
