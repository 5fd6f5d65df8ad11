package asset

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
)

func withHistory(segments int) Options {
	options := splitThigh("", segments)
	options.History = true
	return options
}

// rootAngle is how far the first segment has turned about Y, in degrees.
func rootAngle(t *testing.T, f *File, time float64) float64 {
	q := partTrack(t, f).rotation(time)
	return 2 * math.Atan2(q.Jmag, q.Real) * 180 / math.Pi
}

// cone leads a bone along Y round a cone at an angle from it, the turn's part
// of it, in steady steps, without twist as the shortest arc has it.
func cone(angle, turns float64, keys int) (times, rotations []float64) {
	about := func(x, y, z, angle float64) quat.Number {
		sin, cos := math.Sincos(angle / 2)
		return quat.Number{Real: cos, Imag: x * sin, Jmag: y * sin, Kmag: z * sin}
	}
	for i := range keys {
		t := float64(i) / float64(keys-1)
		phi := 2 * math.Pi * turns * t
		q := quat.Mul(quat.Mul(about(0, 1, 0, phi), about(0, 0, 1, angle)), about(0, 1, 0, -phi))
		times = append(times, t)
		rotations = append(rotations, q.Imag, q.Jmag, q.Kmag, q.Real)
	}
	return times, rotations
}

// Past half a turn pose by pose a middle segment flips; with history it goes on.
func TestHistoryPassesHalfATurn(t *testing.T) {
	f := leg(t, []any{1, 1, 1}, []float64{0, 1, 2, 3}, legChannel{node: 2, interpolation: "LINEAR", degrees: []float64{0, 120, 240, 350}})
	out, report, err := Split(f, withHistory(3))
	require.NoError(t, err)
	require.Empty(t, report.Warnings)
	require.LessOrEqual(t, report.Clips[0].ErrorMaxDeg, 0.05)
	require.InDelta(t, 350, report.Limbs[0].TwistMaxDeg, 1e-3)
	e, err := out.Evaluator()
	require.NoError(t, err)
	middle := e.clips[0].nodes[e.Node("thigh_segment2")].rotation
	last := 0.
	for time := 0.; time <= 3; time += 1. / 64 {
		q := middle.rotation(time)
		angle := 2 * math.Atan2(q.Jmag, q.Real)
		require.Less(t, math.Abs(math.Remainder(angle-last, 2*math.Pi)), 2*math.Pi/180, "at %v s", time)
		last = angle
	}
	require.InDelta(t, -175, math.Remainder(last*180/math.Pi, 360), 2)
}

// Half-way round a cone of 60 degrees the transported frame is off by half the
// cone's solid angle, pi/2 (Gauss and Bonnet; 2 pi (1 - cos) for a whole cap).
func TestHistoryTurnsByTheSolidAngle(t *testing.T) {
	times, rotations := cone(math.Pi/3, 0.5, 193)
	f := leg(t, []any{1, 1, 1}, times, legChannel{node: 2, interpolation: "LINEAR", rotations: rotations})
	out, report, err := Split(f, withHistory(2))
	require.NoError(t, err)
	require.Zero(t, report.Clips[0].ClosingMaxDeg, "no loop")
	// Slerp cuts the corners of 192 keys, which leaves out 1e-4 of the angle.
	require.InDelta(t, 90, rootAngle(t, out, 1), 0.06)
	require.InDelta(t, 45, rootAngle(t, out, 0.5), 0.06)
}

// All the way round, the closing error is the whole solid angle, half a turn,
// and is spread over the clip, which ends as it began.
func TestHistoryClosesLoops(t *testing.T) {
	times, rotations := cone(math.Pi/3, 1, 385)
	f := leg(t, []any{1, 1, 1}, times, legChannel{node: 2, interpolation: "LINEAR", rotations: rotations})
	out, report, err := Split(f, withHistory(2))
	require.NoError(t, err)
	require.InDelta(t, 180, report.Clips[0].ClosingMaxDeg, 0.06)
	require.LessOrEqual(t, report.Clips[0].ErrorMaxDeg, 0.05)
	for _, time := range []float64{0, 0.25, 0.5, 0.9, 1} {
		require.InDelta(t, 0, rootAngle(t, out, time), 0.06, "at %v s", time) // steady all round
	}
}

// Straight through the singular point: pose by pose the segments flip there and
// the split warns; with history there is nothing to it.
func TestHistoryPassesTheSingularPoint(t *testing.T) {
	var times, rotations []float64
	for i := range 65 {
		angle := (160 + 40*float64(i)/64) * math.Pi / 180
		sin, cos := math.Sincos(angle / 2)
		times = append(times, float64(i)/64)
		rotations = append(rotations, sin*math.Cos(0.001), 0, sin*math.Sin(0.001), cos)
	}
	f := leg(t, []any{1, 1, 1}, times, legChannel{node: 2, interpolation: "LINEAR", rotations: rotations})
	_, report, err := Split(f, splitThigh("", 2))
	require.NoError(t, err)
	require.NotEmpty(t, report.Warnings)
	out, report, err := Split(f, withHistory(2))
	require.NoError(t, err)
	require.Empty(t, report.Warnings)
	for _, time := range []float64{0, 0.4, 0.5, 0.6, 1} {
		require.InDelta(t, 0, rootAngle(t, out, time), 0.06)
	}
}

// What a joint really turns about its bone is no closing error, once or twice
// round: the root turns back all of it. A segment half-way cannot close such a
// loop, and the split says so.
func TestHistoryKeepsWholeTurns(t *testing.T) {
	for turns, degrees := range map[int][]float64{1: {0, 90, 180, 270, 360}, 2: {0, 170, 340, 510, 650, 720}} {
		f := leg(t, []any{1, 1, 1}, []float64{0, 1, 2, 3, 4, 5}[:len(degrees)], legChannel{node: 2, interpolation: "LINEAR", degrees: degrees})
		out, report, err := Split(f, withHistory(3))
		require.NoError(t, err)
		require.InDelta(t, 0, report.Clips[0].ClosingMaxDeg, 1e-3)
		require.InDelta(t, 360*turns, report.Limbs[0].TwistMaxDeg, 1e-2)
		require.Len(t, report.Warnings, 1)
		require.Contains(t, report.Warnings[0], `clip "turn": limb "thigh": ends as it began but for whole turns about the bone`)
		for _, time := range []float64{0.5, 1, 2.5, 4} {
			key := int(time) // between two keys the joint turns steadily
			want := -degrees[key]
			if part := time - float64(key); part > 0 {
				want -= part * (degrees[key+1] - degrees[key])
			}
			require.InDelta(t, 0, math.Remainder(rootAngle(t, out, time)-want, 360), 0.1, "%d turns, at %v s", turns, time)
		}
	}
}

// Round a cone of 80 degrees the closing error is more than half a turn, 2 pi
// (1 - cos 80 degrees), and is taken off all the same.
func TestHistoryClosesWideLoops(t *testing.T) {
	times, rotations := cone(80*math.Pi/180, 1, 385)
	f := leg(t, []any{1, 1, 1}, times, legChannel{node: 2, interpolation: "LINEAR", rotations: rotations})
	out, report, err := Split(f, withHistory(2))
	require.NoError(t, err)
	require.Empty(t, report.Warnings)
	require.InDelta(t, 360*(1-math.Cos(80*math.Pi/180)), report.Clips[0].ClosingMaxDeg, 0.1)
	require.InDelta(t, 0, rootAngle(t, out, 1), 0.06)
}
