// Command bench runs Pronate's limb solve beside what one would write with the
// libraries at hand, on the same poses, in one run, and prints one table with
// ratios and accuracy: go run ./bench
package main

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"
	"text/tabwriter"

	"gonum.org/v1/gonum/num/quat"
)

const (
	segments = 4
	poses    = 1024
	rounds   = 5 // each contender runs this often; the median counts
)

func main() {
	joints := randomPoses(poses)
	contenders := contenders()
	want := make([]quat.Number, segments*poses)
	contenders[0].solveAll(want, joints)

	table := tabwriter.NewWriter(os.Stdout, 0, 0, 2, ' ', 0)
	fmt.Fprintf(table, "solve of %d segments\tns a limb\tratio\tallocations\tfarthest from ours\n", segments)
	var ours float64
	for i, c := range contenders {
		ns, allocations := measure(c, joints)
		if i == 0 {
			ours = ns
		}
		got := make([]quat.Number, len(want))
		c.solveAll(got, joints)
		fmt.Fprintf(table, "%s\t%.1f\t%.2f\t%d\t%.1e\n", c.name, ns, ns/ours, allocations, farthest(want, got))
	}
	table.Flush()
}

// measure is the median time of a limb over some rounds, and its allocations.
func measure(c contender, joints []quat.Number) (ns float64, allocations int64) {
	dst := make([]quat.Number, segments*len(joints))
	var times []float64
	for range rounds {
		r := testing.Benchmark(func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				c.solveAll(dst, joints)
			}
		})
		times = append(times, float64(r.NsPerOp())/float64(len(joints)))
		allocations = r.AllocsPerOp() / int64(len(joints))
	}
	slices.Sort(times)
	return times[len(times)/2], allocations
}

// randomPoses are rotations all over the place, the same every time.
func randomPoses(n int) []quat.Number {
	r := rand.New(rand.NewPCG(1, 2))
	out := make([]quat.Number, n)
	for i := range out {
		q := quat.Number{Real: r.NormFloat64(), Imag: r.NormFloat64(), Jmag: r.NormFloat64(), Kmag: r.NormFloat64()}
		out[i] = quat.Scale(1/quat.Abs(q), q)
	}
	return out
}

// farthest is the largest component by which two lists of rotations differ, up
// to their signs.
func farthest(a, b []quat.Number) (worst float64) {
	for i := range a {
		if a[i].Real*b[i].Real+a[i].Imag*b[i].Imag+a[i].Jmag*b[i].Jmag+a[i].Kmag*b[i].Kmag < 0 {
			b[i] = quat.Scale(-1, b[i])
		}
		d := quat.Sub(a[i], b[i])
		worst = max(worst, math.Abs(d.Real), math.Abs(d.Imag), math.Abs(d.Jmag), math.Abs(d.Kmag))
	}
	return worst
}
