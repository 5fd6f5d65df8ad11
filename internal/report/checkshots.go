package report

import (
	"math"
	"slices"
	"strings"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/chain/skin"
	"github.com/pronate/pronate/internal/check"
	"github.com/pronate/pronate/rest"
	"gonum.org/v1/gonum/spatial/r3"
)

// shotsInARow is how many poses a contact sheet shows.
const shotsInARow = 4

// ContactSheets draws the poses that a check is about: of every kind of limb
// the worst twist, and the worst moment of every clip, above with one joint a
// bone, below split. Of a left and a right limb the left one stands for both.
// Clips in which both look alike are left out and counted.
func ContactSheets(f *check.Findings) (sheets []Picture, alike int, err error) {
	shots, alike, err := checkShots(f)
	if err != nil {
		return nil, 0, err
	}
	for row := range slices.Chunk(shots, shotsInARow) {
		sheet, err := DrawPicture(f.Before, f.After, row)
		if err != nil {
			return nil, 0, err
		}
		sheet.Text = "Limbs in their worst poses, above with one joint a bone, below split; squeezed skin is painted darker."
		sheets = append(sheets, sheet)
	}
	return sheets, alike, nil
}

// DrawPicture is BeforeAndAfter for either kind of page.
func DrawPicture(source, split *asset.Evaluator, shots []Shot) (p Picture, err error) {
	sheets, err := BeforeAndAfter(source, split, shots, Light, Dark)
	if err != nil {
		return p, err
	}
	if p.Light, err = PNG(sheets[0]); err != nil {
		return p, err
	}
	p.Dark, err = PNG(sheets[1])
	return p, err
}

// mostClips is how many clips the sheets show: those that go farthest.
const mostClips = 8

func checkShots(f *check.Findings) (shots []Shot, alike int, err error) {
	mesh, err := f.Before.Mesh()
	if err != nil {
		return nil, 0, err
	}
	take := func(l check.Limb, p check.Pose) {
		shot := shotOf(f, l, p)
		shot.Only = aroundLimb(mesh, l)
		shots = append(shots, shot)
	}
	for _, l := range Shown(f) {
		if p, ok := worstTwist(f, l.Name); ok {
			take(l, p)
		}
	}
	var clips []check.Pose
	for _, p := range f.Poses {
		switch {
		case p.Kind != check.Clip:
		case p.IsAlike():
			alike++
		default:
			clips = append(clips, p)
		}
	}
	slices.SortStableFunc(clips, func(a, b check.Pose) int {
		switch {
		case a.Before.Radius < b.Before.Radius:
			return -1
		case a.Before.Radius > b.Before.Radius:
			return 1
		}
		return 0
	})
	for _, p := range clips[:min(len(clips), mostClips)] {
		for _, l := range f.Limbs {
			if l.Name == p.Limb {
				take(l, p)
			}
		}
	}
	return shots, alike, nil
}

// aroundLimb is, of each vertex, the weight on the limb's joint, on those below it
// and on the one that it hangs on: the skin that the limb moves. A chin that an arm
// comes near is none of it.
func aroundLimb(m skin.Mesh, l check.Limb) []float64 {
	out := make([]float64, len(m.Positions))
	for v, held := range m.Influences {
		for _, i := range held {
			if l.Around[i.Joint] {
				out[v] += i.Weight
			}
		}
		out[v] = min(out[v], 1)
	}
	return out
}

// Shown are the limbs that pictures show: a right one only without a left one of
// its kind.
func Shown(f *check.Findings) (out []check.Limb) {
	for _, l := range f.Limbs {
		other := strings.Replace(l.Name, "right", "left", 1)
		if other != l.Name && slices.ContainsFunc(f.Limbs, func(l check.Limb) bool { return l.Name == other }) {
			continue
		}
		out = append(out, l)
	}
	return out
}

// worstTwist is the twist that leaves a limb, split, the least of its radius.
func worstTwist(f *check.Findings, limb string) (worst check.Pose, ok bool) {
	for _, p := range f.Poses {
		if p.Limb == limb && p.Kind == check.Twist && (!ok || math.IsNaN(worst.After.Radius) || p.After.Radius < worst.After.Radius) {
			worst, ok = p, true
		}
	}
	return worst, ok
}

// shotOf looks at a limb across its bone, from the front and from its own side
// as far as that goes.
func shotOf(f *check.Findings, l check.Limb, p check.Pose) Shot {
	world := f.Before.World(p.Number-1, p.Time)
	at := func(node string) r3.Vec { return place(f.Before, node, world) }
	var along r3.Vec
	if l.End != "" {
		along = r3.Sub(at(l.End), at(l.Joint))
	}
	side := r3.Vec{X: 0.7}
	if at(l.Joint).X < 0 {
		side.X = -0.7
	}
	look := r3.Add(side, r3.Vec{Z: 1, Y: 0.1})
	if n := r3.Norm2(along); n > 0 {
		look = r3.Sub(look, r3.Scale(r3.Dot(look, along)/n, along))
	}
	if r3.Norm(look) < 0.2 { // the bone points at the camera
		look = r3.Vec{Z: 1, Y: 0.5}
	}
	look = r3.Unit(look)
	const lowest, highest = -0.15, 0.9 // not from below, and not from straight above
	elevation := math.Atan2(min(max(look.Y, lowest), highest), math.Hypot(look.X, look.Z))
	shot := Shot{
		Caption: l.Name + ", " + p.Name, Clip: p.Clip, Number: p.Number, Time: p.Time, Joint: l.Joint, Toward: l.End,
		Azimuth: math.Atan2(look.X, look.Z), Elevation: elevation, Height: 1.9 * l.Length,
		Told: true,
	}
	if !f.InMetres() {
		shot.Length = l.Length
	}
	return shot
}

func place(e *asset.Evaluator, node string, world []mgl64.Mat4) r3.Vec {
	i := e.Node(node)
	if i < 0 {
		return r3.Vec{}
	}
	return rest.VecFromMgl64(world[i].Col(3).Vec3())
}
