package skin

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// leafTriangles is how many triangles a leaf of a tree has at most. Of 2, 4, 8
// and 16 the quickest in BenchmarkFold.
const leafTriangles = 8

// tree sorts triangles by where they are, so that a search need not look at all
// of them. It is halved by number: node k has the halves of its run in nodes
// 2k+1 and 2k+2, and all leaves are equally deep. The triangles may move, as
// long as fit is called then: what lay together at rest still mostly does.
type tree struct {
	triangles [][3]r3.Vec
	order     []int    // of the triangles; a node has a run of it
	boxes     []r3.Box // of the nodes, round their triangles
}

func newTree(triangles [][3]r3.Vec) tree {
	t := tree{triangles: triangles, order: make([]int, len(triangles))}
	middles := make([]r3.Vec, len(triangles))
	for i, c := range triangles {
		t.order[i] = i
		// A third of each, so that the largest numbers do not overflow.
		middles[i] = r3.Add(r3.Scale(1./3, c[0]), r3.Add(r3.Scale(1./3, c[1]), r3.Scale(1./3, c[2])))
	}
	leaves := 1
	for leaves*leafTriangles < len(triangles) {
		leaves *= 2
	}
	t.boxes = make([]r3.Box, 2*leaves-1)
	t.sort(middles, make([]float64, len(triangles)), 0, t.order)
	t.fit(0, t.order)
	return t
}

// sort halves a node's run across the longest side of the box round the
// triangles' middles, and so on down. It overwrites key.
func (t *tree) sort(middles []r3.Vec, key []float64, node int, run []int) {
	if t.isLeaf(node) {
		return
	}
	box := emptyBox()
	for _, i := range run {
		box = widened(box, middles[i])
	}
	size := r3.Sub(box.Max, box.Min)
	for _, i := range run {
		switch max(size.X, size.Y, size.Z) {
		case size.X:
			key[i] = middles[i].X
		case size.Y:
			key[i] = middles[i].Y
		default:
			key[i] = middles[i].Z
		}
	}
	half := len(run) / 2
	choose(run, key, half)
	t.sort(middles, key, 2*node+1, run[:half])
	t.sort(middles, key, 2*node+2, run[half:])
}

// choose puts before place k of a run what has no larger key than what stands
// there, and after it what has no smaller one (Hoare 1961, Commun. ACM 4:321,
// "Find", from memory).
func choose(run []int, key []float64, k int) {
	for low, high := 0, len(run)-1; low < high; {
		i, j, middle := low, high, key[run[k]]
		for i <= j {
			for key[run[i]] < middle {
				i++
			}
			for middle < key[run[j]] {
				j--
			}
			if i <= j {
				run[i], run[j] = run[j], run[i]
				i++
				j--
			}
		}
		if j < k {
			low = i
		}
		if k < i {
			high = j
		}
	}
}

func (t *tree) isLeaf(node int) bool { return 2*node+1 >= len(t.boxes) }

// fit lays the boxes round the triangles where they are now.
func (t *tree) fit(node int, run []int) {
	box := emptyBox()
	if t.isLeaf(node) {
		for _, i := range run {
			for _, v := range t.triangles[i] {
				box = widened(box, v)
			}
		}
	} else {
		half := len(run) / 2
		for k, part := range [2][]int{run[:half], run[half:]} {
			child := 2*node + 1 + k
			t.fit(child, part)
			box = widened(widened(box, t.boxes[child].Min), t.boxes[child].Max)
		}
	}
	t.boxes[node] = box
}

func emptyBox() r3.Box {
	inf := math.Inf(1)
	return r3.Box{Min: r3.Vec{X: inf, Y: inf, Z: inf}, Max: r3.Vec{X: -inf, Y: -inf, Z: -inf}}
}

// widened is a box that has a point in it besides; with a point that is not a
// number it is none either.
func widened(box r3.Box, p r3.Vec) r3.Box {
	return r3.Box{
		Min: r3.Vec{X: min(box.Min.X, p.X), Y: min(box.Min.Y, p.Y), Z: min(box.Min.Z, p.Z)},
		Max: r3.Vec{X: max(box.Max.X, p.X), Y: max(box.Max.Y, p.Y), Z: max(box.Max.Z, p.Z)},
	}
}
