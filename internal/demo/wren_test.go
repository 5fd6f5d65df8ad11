package demo

import (
	"bytes"
	"math"
	"slices"
	"testing"

	"github.com/qmuntal/gltf"
	"github.com/qmuntal/gltf/modeler"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// character is the file read back, with what the tests ask about.
type character struct {
	doc    *gltf.Document
	node   map[string]int
	parent map[int]int
}

func readWren(t *testing.T) *character {
	t.Helper()
	data, err := Wren()
	require.NoError(t, err)
	c := &character{doc: new(gltf.Document), node: map[string]int{}, parent: map[int]int{}}
	require.NoError(t, gltf.NewDecoder(bytes.NewReader(data)).Decode(c.doc))
	for i, n := range c.doc.Nodes {
		if n.Skin == nil {
			require.NotContains(t, c.node, n.Name)
			c.node[n.Name] = i
		}
		for _, child := range n.Children {
			c.parent[child] = i
		}
	}
	return c
}

func rotation(q [4]float64) quat.Number {
	return quat.Number{Real: q[3], Imag: q[0], Jmag: q[1], Kmag: q[2]}
}

// world is where a joint is at rest, and how it stands.
func (c *character) world(i int) (r3.Vec, quat.Number) {
	n := c.doc.Nodes[i]
	at := r3.Vec{X: n.Translation[0], Y: n.Translation[1], Z: n.Translation[2]}
	q := rotation(n.Rotation)
	p, ok := c.parent[i]
	if !ok {
		return at, q
	}
	from, turned := c.world(p)
	return r3.Add(from, rotate(turned, at)), quat.Mul(turned, q)
}

func (c *character) at(name string) r3.Vec {
	p, _ := c.world(c.node[name])
	return p
}

// keys gives the rotations of a clip's channel.
func (c *character) keys(t *testing.T, clip *gltf.Animation, node int) [][4]float32 {
	t.Helper()
	for _, ch := range clip.Channels {
		if *ch.Target.Node == node && ch.Target.Path == gltf.TRSRotation {
			data, err := modeler.ReadAccessor(c.doc, c.doc.Accessors[clip.Samplers[ch.Sampler].Output], nil)
			require.NoError(t, err)
			return data.([][4]float32)
		}
	}
	return nil
}

func (c *character) clip(t *testing.T, name string) *gltf.Animation {
	t.Helper()
	i := slices.IndexFunc(c.doc.Animations, func(a *gltf.Animation) bool { return a.Name == name })
	require.GreaterOrEqual(t, i, 0, name)
	return c.doc.Animations[i]
}

func TestWrenIsTheSameEveryTime(t *testing.T) {
	a, err := Wren()
	require.NoError(t, err)
	b, err := Wren()
	require.NoError(t, err)
	require.True(t, bytes.Equal(a, b))
}

// Drillis and Contini 1966, in Winter, Biomechanics and Motor Control of Human
// Movement, fig. 4.1 (from memory), as fractions of the height.
func TestProportions(t *testing.T) {
	c := readWren(t)
	length := func(a, b string) float64 { return r3.Norm(r3.Sub(c.at(b), c.at(a))) / Height }
	const tolerance = 0.005 // of the height, as the published sets differ
	for _, side := range []string{"_l", "_r"} {
		require.InDelta(t, 0.186, length("upper_arm"+side, "forearm"+side), tolerance)
		require.InDelta(t, 0.146, length("forearm"+side, "hand"+side), tolerance)
		require.InDelta(t, 0.245, length("thigh"+side, "shin"+side), tolerance)
		require.InDelta(t, 0.246, length("shin"+side, "foot"+side), tolerance)
		require.InDelta(t, 0.039, c.at("foot"+side).Y/Height, tolerance)
		require.InDelta(t, 0.285, c.at("shin"+side).Y/Height, tolerance)
		require.InDelta(t, 0.530, c.at("thigh"+side).Y/Height, tolerance)
		require.InDelta(t, 0.818, c.at("upper_arm"+side).Y/Height, tolerance)
	}

	s := body()
	var top, bottom, tip, heelZ, toeZ float64
	bottom = 1
	arm := r3.Unit(r3.Sub(c.at("hand_l"), c.at("forearm_l")))
	for v, p := range s.at {
		top, bottom = max(top, p.Y), min(bottom, p.Y)
		if s.weight[v][handL] == 1 {
			tip = max(tip, r3.Dot(r3.Sub(p, c.at("hand_l")), arm))
		}
		if s.weight[v][footL]+s.weight[v][toesL] > 0.9 {
			heelZ, toeZ = min(heelZ, p.Z), max(toeZ, p.Z)
		}
	}
	require.InDelta(t, 1, (top-bottom)/Height, tolerance)
	require.InDelta(t, 0, bottom/Height, tolerance)
	require.InDelta(t, 0.108, tip/Height, tolerance)
	require.InDelta(t, 0.152, (toeZ-heelZ)/Height, tolerance)
	// Breadths over the skin; the cloth and the slant of the arms take a little more.
	hips := s.breadth(0.530*Height, func(w weights) bool { return w[handL]+w[handR] == 0 })
	shoulders := s.breadth(0.818*Height, func(weights) bool { return true })
	t.Logf("breadths %.4f %.4f", hips/Height, shoulders/Height)
	require.InDelta(t, 0.191, hips/Height, 2*tolerance)
	require.InDelta(t, 0.259, shoulders/Height, 2*tolerance)
}

// breadth is how wide the skin is at a height, of the parts asked for.
func (s *surface) breadth(y float64, of func(weights) bool) float64 {
	var low, high float64
	for _, f := range s.faces {
		for i, v := range f {
			a, b := s.at[v], s.at[f[(i+1)%len(f)]]
			if of(s.weight[v]) && (a.Y < y) != (b.Y < y) {
				x := mix(a, b, (y-a.Y)/(b.Y-a.Y)).X
				low, high = min(low, x), max(high, x)
			}
		}
	}
	return high - low
}

func TestRestPose(t *testing.T) {
	c := readWren(t)
	skin := c.doc.Skins[0]
	data, err := modeler.ReadAccessor(c.doc, c.doc.Accessors[*skin.InverseBindMatrices], nil)
	require.NoError(t, err)
	inverse := data.([][4][4]float32)
	require.Len(t, inverse, len(skin.Joints))
	askew := 0
	for k, j := range skin.Joints {
		at, q := c.world(j)
		m := inverse[k]
		// Joint transform times inverse bind matrix leaves every point in place.
		for _, p := range []r3.Vec{{}, {X: 1}, {Y: 1}, {Z: 1}} {
			row := func(i int) float64 {
				return float64(m[i][0])*p.X + float64(m[i][1])*p.Y + float64(m[i][2])*p.Z + float64(m[i][3])
			}
			back := r3.Add(at, rotate(q, r3.Vec{X: row(0), Y: row(1), Z: row(2)}))
			// float32 holds the entries, below 2, to 2^-24.
			require.InDelta(t, 0, r3.Norm(r3.Sub(back, p)), 1e-6, c.doc.Nodes[j].Name)
		}
		for _, child := range c.doc.Nodes[j].Children {
			end, _ := c.world(child)
			bone := r3.Unit(rotate(quat.Conj(q), r3.Sub(end, at)))
			if max(math.Abs(bone.X), math.Abs(bone.Y), math.Abs(bone.Z)) < 0.95 {
				askew++
			}
		}
	}
	require.GreaterOrEqual(t, askew, 6, "some frames have nothing to do with their bones")
	for _, name := range []string{"upper_arm_l", "thigh_l"} {
		at, q := c.world(c.node[name])
		end, _ := c.world(c.doc.Nodes[c.node[name]].Children[0])
		bone := r3.Unit(rotate(quat.Conj(q), r3.Sub(end, at)))
		require.Less(t, max(math.Abs(bone.X), math.Abs(bone.Y), math.Abs(bone.Z)), 0.95, name)
	}
	require.Positive(t, c.at("hand_l").X, "her left is +X")
	require.Greater(t, c.at("toes_l").Z, c.at("foot_l").Z, "she faces +Z")
}

func TestWeights(t *testing.T) {
	c := readWren(t)
	primitive := c.doc.Meshes[0].Primitives[0]
	shares, err := modeler.ReadWeights(c.doc, c.doc.Accessors[primitive.Attributes[gltf.WEIGHTS_0]], nil)
	require.NoError(t, err)
	joints, err := modeler.ReadJoints(c.doc, c.doc.Accessors[primitive.Attributes[gltf.JOINTS_0]], nil)
	require.NoError(t, err)
	used := map[uint16]bool{}
	for v, w := range shares {
		var sum float64
		count := 0
		seen := map[uint16]bool{}
		for k, x := range w {
			require.GreaterOrEqual(t, x, float32(0))
			if x == 0 {
				require.Zero(t, joints[v][k], "an empty slot names no joint")
				continue
			}
			require.False(t, seen[joints[v][k]], "vertex %d has a joint twice", v)
			seen[joints[v][k]], used[joints[v][k]] = true, true
			require.Less(t, int(joints[v][k]), len(c.doc.Skins[0].Joints))
			sum += float64(x)
			count++
		}
		// The bound of Khronos' validator.
		require.InDelta(t, 1, sum, 2e-7*float64(count), "vertex %d", v)
	}
	require.Len(t, used, len(c.doc.Skins[0].Joints), "every joint moves some skin")

	// What four influences leave out is next to nothing.
	s := body()
	for v, w := range s.weight {
		sorted := slices.Clone(w[:])
		slices.Sort(sorted)
		var sum, dropped float64
		for i, x := range sorted {
			sum += x
			if i < len(sorted)-4 {
				dropped += x
			}
		}
		require.InDelta(t, 1, sum, 1e-12, "vertex %d", v)
		require.Less(t, dropped, 0.02, "vertex %d at %v", v, s.at[v])
	}
}

// The loops along the limbs lie no further apart than the twist needs.
func TestLoopsAreDense(t *testing.T) {
	s := body()
	for _, limb := range []struct {
		joint    int
		from, to r3.Vec
	}{{upperArmL, shoulder, elbow}, {forearmL, elbow, wrist}, {thighL, hip, knee}, {shinR, mirror(knee), mirror(ankle)}} {
		bone := r3.Sub(limb.to, limb.from)
		length := r3.Norm(bone)
		var along []float64
		for v, p := range s.at {
			d := r3.Dot(r3.Sub(p, limb.from), bone) / length
			// From the middle on the loops lie flat across the bone.
			if s.weight[v][limb.joint] > 0.4 && d > 0.5*length && d < length {
				along = append(along, d)
			}
		}
		slices.Sort(along)
		require.Greater(t, len(along), 150)
		for i := 1; i < len(along); i++ {
			require.Less(t, along[i]-along[i-1], 0.0165)
		}
	}
}
