package chain_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/swing"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// askewHinge is a hinge whose directions are no coordinate axes.
func askewHinge(t require.TestingT) chain.Hinge {
	h, err := chain.NewHinge(r3.Vec{X: 1, Y: -3, Z: 0.5}, r3.Vec{X: 2, Y: 1, Z: -1})
	require.NoError(t, err)
	return h
}

// flexions are turns of a hinge from 0 to an angle in degrees, a degree apart.
func flexions(h chain.Hinge, to int) (out []quat.Number) {
	for i := range to + 1 {
		out = append(out, h.Rotation(float64(i)*hingeDegree, 0, 0))
	}
	return out
}

// Turns about one axis give it, whatever twist goes with them, in whatever sign
// and length the rotations come; rest and rotations that are none change nothing.
func TestHingeFromTurns(t *testing.T) {
	h := askewHinge(t)
	random := rand.New(rand.NewPCG(1, 2))
	var turns []quat.Number
	for range 50 {
		turns = append(turns, quat.Scale(3*random.NormFloat64(), h.Rotation(2*random.Float64(), 0, random.NormFloat64())))
	}
	turns = append(turns, quat.Number{Real: 1}, quat.Number{}, quat.Number{Imag: math.NaN()})
	got, fit, err := chain.HingeFromTurns(h.Bone(), turns)
	require.NoError(t, err)
	requireDirection(t, h.Axis(), got.Axis(), 1e-14)
	require.InDelta(t, 0, fit.Residual, 1e-14)
	require.Greater(t, fit.Largest, 1.5)
	require.Less(t, fit.Largest, 2.0)

	// Bending the other way, the axis is the other way too: flexion is positive.
	back := []quat.Number{h.Rotation(-1, 0, 0), h.Rotation(0.5, 0, 0)}
	got, fit, err = chain.HingeFromTurns(h.Bone(), back)
	require.NoError(t, err)
	requireDirection(t, r3.Scale(-1, h.Axis()), got.Axis(), 1e-14)
	require.InDelta(t, 1, fit.Largest, 1e-14)
}

// Scattered turns without strays: the axis is the principal eigenvector of the sum
// of v v^T over the swings, and the residual its own figure.
func TestHingeFromTurnsIsLeastSquares(t *testing.T) {
	h := askewHinge(t)
	random := rand.New(rand.NewPCG(3, 4))
	var turns []quat.Number
	sum := mat.NewSymDense(3, nil)
	for range 200 {
		// A uniform scatter has no strays: none beyond twice its median.
		q, _ := swing.Arc(h.Bone(), hingeRotated(h.Rotation(1+random.Float64(), 0.2*(2*random.Float64()-1), 0), h.Bone()))
		turns = append(turns, quat.Mul(q, h.Rotation(0, 0, random.NormFloat64())))
		v := mat.NewVecDense(3, []float64{q.Imag, q.Jmag, q.Kmag})
		sum.SymRankOne(sum, 1, v)
	}
	var eigen mat.EigenSym
	require.True(t, eigen.Factorize(sum, true))
	var vectors mat.Dense
	eigen.VectorsTo(&vectors)
	want := r3.Vec{X: vectors.At(0, 2), Y: vectors.At(1, 2), Z: vectors.At(2, 2)}
	if r3.Dot(want, h.Axis()) < 0 {
		want = r3.Scale(-1, want)
	}
	got, fit, err := chain.HingeFromTurns(h.Bone(), turns)
	require.NoError(t, err)
	requireDirection(t, want, got.Axis(), 1e-13)
	// The tangents of the offs, weighted by their cosines squared, are the second
	// eigenvalue over the sum: the residual to the third order of 0.2 radians.
	values := eigen.Values(nil)
	require.InDelta(t, math.Sqrt(values[1]/(values[1]+values[2])), fit.Residual, 0.2*0.2*0.2)
	require.Greater(t, fit.Residual, 0.05)
}

// A clip of which a third bends sideways by 10 degrees leaves the axis where the
// rest has it.
func TestStraysDoNotTurnTheHinge(t *testing.T) {
	h := askewHinge(t)
	turns := flexions(h, 90)
	for i := range 45 {
		turns = append(turns, h.Rotation(60*hingeDegree, 10*hingeDegree*math.Sin(float64(i)/45*math.Pi), 0))
	}
	got, fit, err := chain.HingeFromTurns(h.Bone(), turns)
	require.NoError(t, err)
	requireDirection(t, h.Axis(), got.Axis(), 0.02*hingeDegree)
	require.Greater(t, fit.Residual, 2*hingeDegree, "strays are in the residual")
}

func TestHingeFromTurnsRefuses(t *testing.T) {
	h := askewHinge(t)
	_, _, err := chain.HingeFromTurns(r3.Vec{}, nil)
	require.ErrorContains(t, err, "bone is [0, 0, 0]")
	for _, turns := range [][]quat.Number{nil, {{}}, flexions(h, 0)} {
		_, _, err = chain.HingeFromTurns(h.Bone(), turns)
		require.EqualError(t, err, "chain: hinge: no turn bends the joint by more than 0.0 degrees, expected 10")
	}
	// Twist alone, or hardly any bend.
	_, fit, err := chain.HingeFromTurns(h.Bone(), append(flexions(h, 9), h.Rotation(0, 0, 2)))
	require.EqualError(t, err, "chain: hinge: no turn bends the joint by more than 9.0 degrees, expected 10")
	require.InDelta(t, 9*hingeDegree, fit.Largest, 1e-14)
	// As far sideways as ahead.
	_, _, err = chain.HingeFromTurns(h.Bone(), []quat.Number{h.Rotation(1, 0, 0), h.Rotation(0, 1, 0)})
	require.EqualError(t, err, "chain: hinge: the joint bends about no one axis: 100% as far across it as along, expected 50% or less")
}
