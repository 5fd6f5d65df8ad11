// Package notebook holds the notebook's clip to the demo's character.
package notebook

import (
	"bytes"
	"encoding/csv"
	"flag"
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
	"testing"

	"github.com/pronate/pronate/internal/demo"
	"github.com/qmuntal/gltf"
	"github.com/qmuntal/gltf/modeler"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
)

const (
	clipFile = "wren-high-step.csv"
	joint    = "thigh_l"
)

var write = flag.Bool("write", false, "write "+clipFile+" anew")

// tolerance is half a unit of the file's last decimal, and what the demo's single
// precision may differ by between processors: a few parts in 2^24 of a part of a
// quaternion.
const tolerance = 0.5e-7 + 4.0/(1<<24)

// The notebook's rotations are those of Wren's left thigh in her high step, from
// rest: with K the key and R the joint's rotation at rest, both in the pelvis'
// frame, K R*. At rest the pelvis' axes are the world's.
func TestClipIsWrens(t *testing.T) {
	want := highStep(t)
	if *write {
		require.NoError(t, os.WriteFile(clipFile, want, 0o644))
	}
	data, err := os.ReadFile(clipFile)
	require.NoError(t, err)
	wantRows, err := csv.NewReader(bytes.NewReader(want)).ReadAll()
	require.NoError(t, err)
	rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, len(wantRows))
	require.Equal(t, wantRows[0], rows[0])
	for i, row := range rows[1:] {
		for k, cell := range row {
			x, err := strconv.ParseFloat(cell, 64)
			require.NoError(t, err)
			y, err := strconv.ParseFloat(wantRows[i+1][k], 64)
			require.NoError(t, err)
			require.InDelta(t, y, x, tolerance, "row %d, %s; go test ./examples/notebook -write", i+1, rows[0][k])
		}
	}
}

func highStep(t *testing.T) []byte {
	t.Helper()
	glb, err := demo.Wren()
	require.NoError(t, err)
	doc := new(gltf.Document)
	require.NoError(t, gltf.NewDecoder(bytes.NewReader(glb)).Decode(doc))
	node := slices.IndexFunc(doc.Nodes, func(n *gltf.Node) bool { return n.Name == joint })
	require.GreaterOrEqual(t, node, 0)
	parent := doc.Nodes[slices.IndexFunc(doc.Nodes, func(n *gltf.Node) bool { return slices.Contains(n.Children, node) })]
	require.Equal(t, [4]float64{0, 0, 0, 1}, parent.RotationOrDefault(), "the axis in the notebook is along the world's axes")

	clip := doc.Animations[slices.IndexFunc(doc.Animations, func(a *gltf.Animation) bool { return a.Name == demo.HighStep })]
	channel := slices.IndexFunc(clip.Channels, func(c *gltf.AnimationChannel) bool {
		return *c.Target.Node == node && c.Target.Path == gltf.TRSRotation
	})
	require.GreaterOrEqual(t, channel, 0)
	sampler := clip.Samplers[clip.Channels[channel].Sampler]
	times, err := modeler.ReadAccessor(doc, doc.Accessors[sampler.Input], nil)
	require.NoError(t, err)
	keys, err := modeler.ReadAccessor(doc, doc.Accessors[sampler.Output], nil)
	require.NoError(t, err)

	r := doc.Nodes[node].RotationOrDefault()
	back := quat.Number{Real: r[3], Imag: -r[0], Jmag: -r[1], Kmag: -r[2]}
	var out bytes.Buffer
	out.WriteString("time_s,rotation_x,rotation_y,rotation_z,rotation_w\n")
	for i, k := range keys.([][4]float32) {
		key := quat.Number{Real: float64(k[3]), Imag: float64(k[0]), Jmag: float64(k[1]), Kmag: float64(k[2])}
		q := quat.Mul(key, back)
		fmt.Fprintf(&out, "%.7f", times.([]float32)[i])
		for _, x := range []float64{q.Imag, q.Jmag, q.Kmag, q.Real} {
			fmt.Fprintf(&out, ",%.7f", math.Round(x*1e7)/1e7+0) // + 0: no negative zero
		}
		out.WriteByte('\n')
	}
	return out.Bytes()
}
