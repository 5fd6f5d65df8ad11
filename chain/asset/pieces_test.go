package asset

import (
	"encoding/binary"
	"math"
	"testing"

	"github.com/pronate/pronate/chain/skin"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// sheet is a grid of vertices with its triangles, all held by one joint.
type sheet struct {
	positions []float64
	triangles []int
	joint     byte
}

// shell is a part of a tube about the bone, from an angle to another in degrees,
// closed where that is all round, between two places along Y.
func shell(from, to, low, high, radius float64) sheet {
	const steps, rings = 12, 7
	var s sheet
	for ring := range rings {
		y := low + (high-low)*float64(ring)/(rings-1)
		for k := range steps + 1 {
			a := from + (to-from)*float64(k)/steps
			if k == steps && to-from == 360 {
				a = from // the seam of a texture
			}
			sin, cos := math.Sincos(a * math.Pi / 180)
			s.positions = append(s.positions, radius*cos, y, radius*sin)
			if at := len(s.positions)/3 - 1; ring > 0 && k > 0 {
				s.triangles = append(s.triangles, at-steps-2, at-1, at, at-steps-2, at, at-steps-1)
			}
		}
	}
	s.joint = 1
	return s
}

// box is a closed box beside the bone.
func box(x, low, high float64) sheet {
	s := sheet{joint: 1}
	for i := range 8 {
		corner := func(bit int, a, b float64) float64 {
			if i>>bit&1 == 1 {
				return b
			}
			return a
		}
		s.positions = append(s.positions, corner(0, x, x+0.05), corner(1, low, high), corner(2, -0.03, 0.03))
	}
	for _, q := range [][4]int{{0, 1, 3, 2}, {4, 6, 7, 5}, {0, 4, 5, 1}, {2, 3, 7, 6}, {0, 2, 6, 4}, {1, 5, 7, 3}} {
		s.triangles = append(s.triangles, q[0], q[1], q[2], q[0], q[2], q[3])
	}
	return s
}

// and puts another sheet into the same primitive.
func (s sheet) and(other sheet) sheet {
	for _, v := range other.triangles {
		s.triangles = append(s.triangles, v+len(s.positions)/3)
	}
	s.positions = append(s.positions, other.positions...)
	return s
}

func (b *small) primitive(s sheet, material int) members {
	var joints []byte
	var weights []float64
	for range len(s.positions) / 3 {
		joints, weights = append(joints, s.joint, 0, 0, 0), append(weights, 1, 0, 0, 0)
	}
	var indices []byte
	for _, v := range s.triangles {
		indices = binary.LittleEndian.AppendUint16(indices, uint16(v))
	}
	return members{"material": material, "indices": b.add(indices, 5123, len(s.triangles), "SCALAR"), "attributes": members{
		"POSITION": b.floats("VEC3", 3, s.positions...), "JOINTS_0": b.bytes(joints...), "WEIGHTS_0": b.floats("VEC4", 4, weights...),
	}}
}

// dressed is pelvis - thigh - shin, wearing meshes of sheets, the materials of their
// primitives numbered on, and a hat of a skin of its own that no limb moves. A clip
// twists the thigh by 90 degrees from rest.
func dressed(t *testing.T, meshes ...[]sheet) *File {
	b := &small{}
	nodes := []any{
		members{"name": "pelvis", "children": []any{1}}, members{"name": "thigh", "children": []any{2}},
		members{"name": "shin", "translation": []any{0, 1, 0}},
	}
	hat := box(0, 2, 3)
	hat.joint = 0
	var list, materials []any
	for i, m := range append(meshes, []sheet{hat}) {
		var primitives []any
		for _, s := range m {
			primitives = append(primitives, b.primitive(s, len(materials)))
			materials = append(materials, members{"name": string(rune('a' + len(materials)))})
		}
		worn := 0
		if i == len(meshes) {
			worn = 1
		}
		list = append(list, members{"name": "mesh " + string(rune('A'+i)), "primitives": primitives})
		nodes = append(nodes, members{"name": "node " + string(rune('A'+i)), "mesh": i, "skin": worn})
	}
	roots := []any{0}
	for i := range list {
		roots = append(roots, 3+i)
	}
	turn := b.animation("turn", []float64{0, 1}, legChannel{node: 1, interpolation: "LINEAR", degrees: []float64{0, 90}})
	return b.file(t, members{
		"nodes": nodes, "scenes": []any{members{"nodes": roots}}, "meshes": list, "materials": materials, "animations": []any{turn},
		"skins": []any{members{"joints": []any{0, 1, 2}}, members{"joints": []any{0, 1, 2}}},
	})
}

func splitDressed(t *testing.T, f *File, change func(*LimbSpec)) (*File, LimbReport) {
	o := splitThigh("", 3)
	if change != nil {
		change(&o.Limbs[0])
	}
	out, report, err := Split(f, o)
	require.NoError(t, err)
	require.LessOrEqual(t, report.RestErrorMax, 1e-6)
	return out, report.Limbs[0]
}

func handlings(r LimbReport) map[string]string {
	out := map[string]string{}
	for _, p := range r.Pieces {
		out[p.Piece] = p.Handling
	}
	return out
}

func TestWhatRidesOnALimb(t *testing.T) {
	leg := shell(0, 360, -0.1, 1.1, 0.1)
	for name, c := range map[string]struct {
		primitives []sheet
		want       map[string]string
	}{
		"a pouch":              {[]sheet{leg, box(0.11, 0.3, 0.5)}, map[string]string{"mesh A/0/0": "split", "mesh A/1/0": "rigid"}},
		"in one primitive":     {[]sheet{leg.and(box(0.11, 0.3, 0.5))}, map[string]string{"mesh A/0/0": "split", "mesh A/0/91": "rigid"}},
		"a pad half round":     {[]sheet{leg, shell(-90, 90, 0.7, 1, 0.11)}, map[string]string{"mesh A/0/0": "split", "mesh A/1/0": "rigid"}},
		"a short pad":          {[]sheet{leg, shell(-90, 90, 0.7, 0.705, 0.11)}, map[string]string{"mesh A/0/0": "split", "mesh A/1/0": "rigid"}},
		"a bracer with a slit": {[]sheet{leg, shell(-160, 160, 0.3, 0.7, 0.11)}, map[string]string{"mesh A/0/0": "split", "mesh A/1/0": "split"}},
		"a thin ring":          {[]sheet{leg, shell(0, 360, 0.5, 0.505, 0.11)}, map[string]string{"mesh A/0/0": "split", "mesh A/1/0": "split"}},
		"a skin of two halves": {[]sheet{shell(0, 170, 0, 1, 0.1), shell(180, 350, 0, 1, 0.1)}, map[string]string{"mesh A/0/0": "split", "mesh A/1/0": "split"}},
		"cut by material":      {[]sheet{shell(0, 180, 0, 1, 0.1), shell(180, 360, 0, 1, 0.1)}, map[string]string{"mesh A/0/0": "split"}},
		"boxes alone":          {[]sheet{box(0.11, 0.3, 0.5)}, map[string]string{"mesh A/0/0": "split"}},
	} {
		_, r := splitDressed(t, dressed(t, c.primitives), nil)
		require.Equal(t, c.want, handlings(r), name)
	}
}

// stretched is by how much the distances within a part of the skin change as the
// clip ends, at the most, in metres.
func stretched(t *testing.T, f *File, from, to int) (most float64) {
	e, err := f.Evaluator()
	require.NoError(t, err)
	before, after := e.Vertices(e.World(-1, 0))[from:to], e.Vertices(e.World(0, 1))[from:to]
	for i := range before {
		for j := range before {
			most = max(most, math.Abs(r3.Norm(r3.Sub(before[i], before[j]))-r3.Norm(r3.Sub(after[i], after[j]))))
		}
	}
	return most
}

// A pouch on a thigh that twists by 90 degrees keeps its shape, to what single
// precision makes of a metre, as in the source; told nowhere, it would be bent.
func TestAPouchKeepsItsShape(t *testing.T) {
	const single = 1e-6
	leg, pouch := shell(0, 360, -0.1, 1.1, 0.1), box(0.11, 0.2, 0.7)
	n := len(leg.positions) / 3
	f := dressed(t, []sheet{leg, pouch})
	out, _ := splitDressed(t, f, nil)
	require.LessOrEqual(t, stretched(t, f, n, n+8), single)
	require.LessOrEqual(t, stretched(t, out, n, n+8), single)
	require.Greater(t, stretched(t, out, 0, n), 0.01, "the leg twists")
	e, err := out.Evaluator()
	require.NoError(t, err)
	for v := range 8 { // its middle is at 0.45, next to the second segment of three
		require.Equal(t, e.Node("thigh_segment2"), out.Doc.Skins[0].Joints[e.worn[1].influences[0][v].joints[0]])
		require.Equal(t, 1., e.worn[1].influences[0][v].weights[0])
	}
	// Without the leg nothing goes round, and the box is taken for skin.
	out, _ = splitDressed(t, dressed(t, []sheet{pouch}), nil)
	require.Greater(t, stretched(t, out, 0, 8), 0.01)
	// Unless the limb file says so.
	for _, rigid := range []SkinParts{{Meshes: []string{"mesh A"}}, {Meshes: []string{"node A"}}, {Meshes: []string{"#0"}}, {Materials: []string{"a"}}, {Materials: []string{"#0"}}, {Pieces: []string{"mesh A/0/0"}}} {
		out, r := splitDressed(t, dressed(t, []sheet{pouch}), func(l *LimbSpec) { l.Rigid = &rigid })
		require.LessOrEqual(t, stretched(t, out, 0, 8), single, rigid)
		require.Equal(t, "rigid", r.Pieces[0].Handling)
	}
}

// Of what is excluded every byte stays as it was; rigid does not undo it.
func TestExcludedSkinIsLeft(t *testing.T) {
	leg, pouch := shell(0, 360, -0.1, 1.1, 0.1), box(0.11, 0.2, 0.7)
	f := dressed(t, []sheet{leg}, []sheet{pouch})
	for _, exclude := range []SkinParts{{Meshes: []string{"mesh B"}}, {Materials: []string{"b"}}, {Pieces: []string{"mesh B/0/0"}}} {
		out, r := splitDressed(t, f, func(l *LimbSpec) { l.Exclude, l.Rigid = &exclude, &SkinParts{Meshes: []string{"mesh B"}} })
		require.Equal(t, f.Doc.Meshes[1], out.Doc.Meshes[1])
		require.Equal(t, map[string]string{"mesh A/0/0": "split", "mesh B/0/0": "excluded"}, handlings(r))
		require.Equal(t, len(leg.positions)/3, r.Vertices)
	}
	out, _ := splitDressed(t, f, func(l *LimbSpec) { l.Exclude = &SkinParts{Meshes: []string{"mesh A", "mesh B"}} })
	require.Equal(t, f.Doc.Skins, out.Doc.Skins, "no skin has a vertex that a segment moves")
}

// Segments enter the skins that they move, and no other.
func TestSkinsThatNoLimbMovesAreLeft(t *testing.T) {
	f := dressed(t, []sheet{shell(0, 360, -0.1, 1.1, 0.1)})
	out, _ := splitDressed(t, f, nil)
	require.Len(t, out.Doc.Skins[0].Joints, 6)
	require.Equal(t, f.Doc.Skins[1], out.Doc.Skins[1])
	require.Equal(t, f.Doc.Meshes[1], out.Doc.Meshes[1])
}

// Primitives that share their vertices and not their rules get data of their own.
func TestRulesPartSharedVertices(t *testing.T) {
	both := shell(0, 360, -0.1, 1.1, 0.1).and(box(0.3, 0.2, 0.7))
	f := dressed(t, []sheet{both, both})
	f.Doc.Meshes[0].Primitives[1].Attributes = f.Doc.Meshes[0].Primitives[0].Attributes
	e, err := f.Evaluator()
	require.NoError(t, err)
	all, err := e.pieces()
	require.NoError(t, err)
	require.Equal(t, all.worn[0].piece, all.worn[1].piece)
	find := newFinder(f, e, DefaultNames)
	l, err := find.limb(splitThigh("", 3).Limbs[0])
	require.NoError(t, err)
	require.NoError(t, find.setPieces(l))
	require.NoError(t, find.name(l))
	r := reweighter{file: f, pieces: all, limbs: []*limb{l}, most: 4, perSkin: map[int][]joined{}, done: map[string]*reweighted{}, stats: make([]limbStats, 1)}
	for _, parted := range []bool{false, true} {
		if parted {
			l.rules[piecePart{wearing{0, 0, 1}, 0}] = leftPiece
		}
		r.perSkin[0] = []joined{{segments: []int{3, 4, 5}, frame: l.frames[0], rules: l.rules, homes: l.homes(all)}}
		clear(r.done)
		first, second := r.primitive(wearing{0, 0, 0}), r.primitive(wearing{0, 0, 1})
		require.Equal(t, parted, first != second)
	}
}

func TestPartsThatThereAreNot(t *testing.T) {
	f := dressed(t, []sheet{shell(0, 360, -0.1, 1.1, 0.1), box(0.11, 0.2, 0.7)})
	for line, want := range map[string]string{
		"exclude: {meshes: [mesh A, pouch]}": `limbs.yaml:5:33: limb "a": exclude: there is no skinned mesh "pouch", expected one of "mesh A", "mesh B"`,
		`exclude: {meshes: ["#2"]}`:          `limbs.yaml:5:25: limb "a": exclude: there is no skinned mesh "#2", expected one of "mesh A", "mesh B"`,
		"rigid: {materials: [d]}":            `limbs.yaml:5:26: limb "a": rigid: there is no material of the skin "d", expected one of "a", "b", "c"`,
		`rigid: {pieces: ["mesh A/0/1"]}`:    `limbs.yaml:5:23: limb "a": rigid: there is no piece "mesh A/0/1", expected one of "mesh A/0/0", "mesh A/1/0"`,
	} {
		limbs, err := ParseLimbs("limbs.yaml", []byte("version: 1\nlimbs:\n  - {joint: thigh, end: shin, name: a,\n     field: shortest,\n     "+line+"}\n"))
		require.NoError(t, err, line)
		_, _, err = Split(f, Options{AsAsked: true, Limbs: limbs.Limbs})
		require.EqualError(t, err, want, line)
		_, err = Resolve(f, limbs.Limbs)
		require.EqualError(t, err, want, line)
	}
}

func TestHandOver(t *testing.T) {
	vertex := []skin.Influence{{Joint: 7, Weight: 0.75}, {Joint: 2, Weight: 0.25}}
	h := handover{joint: 7, segments: []int{10, 11, 12}, u: 0.5}
	for rule, want := range map[pieceRule][]skin.Influence{
		splitPiece: {{Joint: 10, Weight: 0.09375}, {Joint: 11, Weight: 0.5625}, {Joint: 12, Weight: 0.09375}, {Joint: 2, Weight: 0.25}},
		rigidPiece: {{Joint: 12, Weight: 0.75}, {Joint: 2, Weight: 0.25}},
		leftPiece:  vertex,
	} {
		h.rule, h.home = rule, 2
		got, moved := handOver(nil, vertex, []handover{h}, skin.Quadratic, 4)
		require.Equal(t, want, got, rule)
		require.Zero(t, moved)
	}
	require.Equal(t, []int{0, 0, 1, 2, 2}, []int{homeSegment(-1, 3), homeSegment(0.2, 3), homeSegment(0.3, 3), homeSegment(0.8, 3), homeSegment(2, 3)})
}
