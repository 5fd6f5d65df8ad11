package twist_test

import (
	"math"
	"testing"

	"github.com/pronate/pronate/twist"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

func dot(q, r quat.Number) float64 { return quat.Mul(q, quat.Conj(r)).Real }

// matrix returns the rotation matrix of a unit quaternion, column by column
// from the definition.
func matrix(q quat.Number) *mat.Dense {
	m := mat.NewDense(3, 3, nil)
	for j, e := range []r3.Vec{axisX, axisY, axisZ} {
		v := rotate(q, e)
		m.SetCol(j, []float64{v.X, v.Y, v.Z})
	}
	return m
}

// TestMetrics: the distances between rotations of Huynh 2009, "Metrics for 3D
// rotations", J Math Imaging Vis 35:155-164, doi 10.1007/s10851-009-0161-2
// (formulas from memory), at a relative angle.
func TestMetrics(t *testing.T) {
	base := unit(number(1, 2, 3, 4))
	for _, theta := range []float64{0, 1e-6, 0.3, math.Pi / 2, 2, 3, math.Pi} {
		q := quat.Mul(twist.About(r3.Vec{X: 2, Y: -1, Z: 2}, theta), base)
		// The first cancels next to theta = 0, absolutely, to a few roundings.
		phi2 := min(quat.Abs(quat.Sub(q, base)), quat.Abs(quat.Add(q, base)))
		require.InDelta(t, 2*math.Sin(theta/4), phi2, componentTolerance)
		require.InDelta(t, theta/2, angleOf(quat.Mul(q, quat.Conj(base)))/2, componentTolerance)
		require.InDelta(t, 1-math.Cos(theta/2), 1-math.Abs(dot(q, base)), componentTolerance)
		var relative mat.Dense
		relative.Mul(matrix(q), matrix(base).T())
		relative.Sub(mat.NewDiagDense(3, []float64{1, 1, 1}), &relative)
		require.InDelta(t, 2*math.Sqrt2*math.Sin(theta/2), mat.Norm(&relative, 2), componentTolerance)
		log := quat.Log(quat.Mul(q, quat.Conj(base)))
		require.InDelta(t, theta, 2*quat.Abs(log), angleTolerance)
	}
	// The values at 90 degrees.
	q := twist.About(axisZ, 90*degree)
	require.InDelta(t, 0.765366864730, quat.Abs(quat.Sub(q, number(1, 0, 0, 0))), printedTolerance)
	require.InDelta(t, 0.785398163397, angleOf(q)/2, printedTolerance)
	require.InDelta(t, 0.292893218813, 1-q.Real, printedTolerance)
	require.InDelta(t, 1.570796326795, angleOf(q), printedTolerance)
}

// average is the dominant eigenvector of the weighted sum of q qᵀ.
func average(t *testing.T, rotations []quat.Number, weights []float64) quat.Number {
	sum := mat.NewSymDense(4, nil)
	for i, q := range rotations {
		sum.SymRankOne(sum, weights[i], mat.NewVecDense(4, []float64{q.Real, q.Imag, q.Jmag, q.Kmag}))
	}
	var eigen mat.EigenSym
	require.True(t, eigen.Factorize(sum, true))
	var vectors mat.Dense
	eigen.VectorsTo(&vectors)
	v := mat.Col(nil, 3, &vectors) // eigenvalues ascend
	return number(v[0], v[1], v[2], v[3])
}

// TestAverage: Markley, Cheng, Crassidis and Oshman 2007, "Averaging
// quaternions", J Guid Control Dyn 30:1193-1197 (from memory).
func TestAverage(t *testing.T) {
	const eigenTolerance = 1e-10 // an iterative solver, and values printed to 12 decimals
	one := number(1, 0, 0, 0)
	got := average(t, []quat.Number{one, twist.About(axisZ, 90*degree)}, []float64{3, 1})
	require.InDelta(t, 18.434948822922, mustAngle(t, got, axisZ)/degree, eigenTolerance/degree)

	// About a common axis it is the angle of the weighted mean of the points
	// (cos, sin), whatever the signs of the quaternions.
	angles, weights := []float64{0.1, 0.9, -0.4, 1.7}, []float64{1, 2, 0.5, 1.5}
	var rotations []quat.Number
	var s, c float64
	for i, angle := range angles {
		rotations = append(rotations, quat.Scale(1-2*float64(i%2), twist.About(axisY, angle)))
		s, c = s+weights[i]*math.Sin(angle), c+weights[i]*math.Cos(angle)
	}
	require.InDelta(t, math.Atan2(s, c), mustAngle(t, average(t, rotations, weights), axisY), eigenTolerance)

	// Extrinsic x, y, z is intrinsic Z, Y, X with the angles reversed.
	three := []quat.Number{
		euler("ZYX", [3]float64{30 * degree, 20 * degree, 10 * degree}),
		euler("ZYX", [3]float64{5 * degree, -10 * degree, 40 * degree}),
		euler("ZYX", [3]float64{80 * degree, 60 * degree, -20 * degree}),
	}
	requireRotation(t, number(0.932965188097, -0.001635494363, 0.146675145887, 0.328724329090),
		average(t, three, []float64{1, 1, 1}), eigenTolerance)
	requireRotation(t, number(0.872972474678, -0.126159560166, 0.181124975654, 0.434967317196),
		average(t, three, []float64{1, 2, 3}), eigenTolerance)
}
