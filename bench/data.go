package main

import (
	"encoding/binary"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"

	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// A limb has this many segments, with shares 0, 1/3, 2/3 and 1 of the twist.
const segments = 4

// limbs is the number of limbs of a pass: in and out, 160 kB in float64, which
// the second cache of today's machines holds.
const limbs = 1024

// A precision is the type of the numbers a contender is given and gives.
type precision string

const (
	float64s precision = "float64"
	float32s precision = "float32"
)

// data is what the contenders are given. In float32 it is the same data
// rounded, and the answers are held to what is exact for the rounded data.
type data struct {
	axis    r3.Vec        // a unit vector, along no axis of coordinates
	poses   []quat.Number // unit quaternions, all over the place
	targets []r3.Vec      // directions to aim at, of lengths 0.5 to 2
}

// newData is the same every time.
func newData(n int) *data {
	r := rand.New(rand.NewPCG(1, 2))
	d := &data{axis: r3.Unit(r3.Vec{X: 1, Y: 2, Z: 3})}
	for range n {
		q := quat.Number{Real: r.NormFloat64(), Imag: r.NormFloat64(), Jmag: r.NormFloat64(), Kmag: r.NormFloat64()}
		d.poses = append(d.poses, quat.Scale(1/quat.Abs(q), q))
		v := r3.Unit(r3.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()})
		d.targets = append(d.targets, r3.Scale(0.5+1.5*r.Float64(), v))
	}
	return d
}

// rounded is the data as numbers of the precision have it.
func (d *data) rounded(p precision) *data {
	if p == float64s {
		return d
	}
	short := func(x float64) float64 { return float64(float32(x)) }
	vec := func(v r3.Vec) r3.Vec { return r3.Vec{X: short(v.X), Y: short(v.Y), Z: short(v.Z)} }
	out := &data{axis: vec(d.axis)}
	for _, q := range d.poses {
		out.poses = append(out.poses, quat.Number{Real: short(q.Real), Imag: short(q.Imag), Jmag: short(q.Jmag), Kmag: short(q.Kmag)})
	}
	for _, v := range d.targets {
		out.targets = append(out.targets, vec(v))
	}
	return out
}

// flatPoses is the poses' numbers: x, y, z, w, pose after pose.
func (d *data) flatPoses() []float64 { return flatten(d.poses) }

// flatTargets is the targets' numbers: x, y, z, one after the other.
func (d *data) flatTargets() []float64 {
	var out []float64
	for _, v := range d.targets {
		out = append(out, v.X, v.Y, v.Z)
	}
	return out
}

func flatten(qs []quat.Number) []float64 {
	out := make([]float64, 0, 4*len(qs))
	for _, q := range qs {
		out = append(out, q.Imag, q.Jmag, q.Kmag, q.Real)
	}
	return out
}

// write puts poses, targets and axis into the folder, a file of numbers each
// and for each precision, with its name at the end.
func (d *data) write(folder string) error {
	for _, p := range []precision{float64s, float32s} {
		for name, numbers := range map[string][]float64{
			"poses": d.flatPoses(), "targets": d.flatTargets(), "axis": {d.axis.X, d.axis.Y, d.axis.Z},
		} {
			if err := os.WriteFile(filepath.Join(folder, name+"."+string(p)), encode(numbers, p), 0o666); err != nil {
				return err
			}
		}
	}
	return nil
}

// encode is the numbers as little-endian bytes.
func encode(numbers []float64, p precision) []byte {
	var out []byte
	for _, x := range numbers {
		if p == float32s {
			out = binary.LittleEndian.AppendUint32(out, math.Float32bits(float32(x)))
		} else {
			out = binary.LittleEndian.AppendUint64(out, math.Float64bits(x))
		}
	}
	return out
}

// decode undoes encode, but for the rounding.
func decode(bytes []byte, p precision) []float64 {
	var out []float64
	if p == float32s {
		for ; len(bytes) >= 4; bytes = bytes[4:] {
			out = append(out, float64(math.Float32frombits(binary.LittleEndian.Uint32(bytes))))
		}
		return out
	}
	for ; len(bytes) >= 8; bytes = bytes[8:] {
		out = append(out, math.Float64frombits(binary.LittleEndian.Uint64(bytes)))
	}
	return out
}
