package report

import (
	"cmp"
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

// ContactSheets draws the poses that a check is about, above the source, below split:
// the pose that the split makes worst or, where it makes none worse, the one with most
// strain left; the pose of every kind of limb that gains most; and the moment of every
// clip that differs most. Of a left and a right limb the left one stands for both.
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
		sheet.Text = "Limbs in the poses that matter most, above the source, below split; compressed skin is painted darker."
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

// mostClips is how many clips the sheets show: those in which most changes.
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
	limbOf := func(p check.Pose) check.Limb {
		return f.Limbs[slices.IndexFunc(f.Limbs, func(l check.Limb) bool { return l.Name == p.Limb })]
	}
	worst, any := WorstPose(f)
	if any {
		take(limbOf(worst), worst)
	}
	taken := func(p check.Pose) bool { return p.Number == worst.Number && p.Time == worst.Time }
	for _, l := range Shown(f) {
		if p, ok := bestPose(f, l.Name); ok && !taken(p) {
			take(l, p)
		}
	}
	clips, alike := clipsThatDiffer(f)
	for _, p := range clips[:min(len(clips), mostClips)] {
		if !taken(p) {
			take(limbOf(p), p)
		}
	}
	return shots, alike, nil
}

// WorstPose is the pose that the split makes worst or, where it makes none worse, the
// one with most strain left.
func WorstPose(f *check.Findings) (worst check.Pose, ok bool) {
	less := func(a, b check.Pose) bool {
		if (a.Outcome == check.Worse) != (b.Outcome == check.Worse) {
			return b.Outcome == check.Worse
		}
		if a.Outcome == check.Worse {
			return a.Change() < b.Change()
		}
		return a.After.Strain < b.After.Strain
	}
	for _, p := range f.Poses {
		if p.Outcome != check.Unmeasured && (!ok || less(worst, p)) {
			worst, ok = p, true
		}
	}
	return worst, ok
}

// bestPose is the pose that the check makes for a limb in which most strain goes away.
func bestPose(f *check.Findings, limb string) (best check.Pose, ok bool) {
	gain := func(p check.Pose) float64 { return p.Before.Strain - p.After.Strain }
	for _, p := range f.Poses {
		if p.Limb == limb && p.Kind != check.Clip && p.Outcome == check.Better && (!ok || gain(p) > gain(best)) {
			best, ok = p, true
		}
	}
	return best, ok
}

// clipsThatDiffer are the moments of clips that differ most, one a clip, those with
// most change first, and how many clips look alike in all moments.
func clipsThatDiffer(f *check.Findings) (out []check.Pose, alike int) {
	for first := 0; first < len(f.Poses) && f.Poses[first].Kind == check.Clip; {
		most, isAlike := f.Poses[first], true
		next := first
		for ; next < len(f.Poses) && f.Poses[next].Kind == check.Clip && f.Poses[next].Number == most.Number; next++ {
			p := f.Poses[next]
			isAlike = isAlike && p.IsAlike()
			if math.Abs(p.Change()) > math.Abs(most.Change()) {
				most = p
			}
		}
		first = next
		if isAlike {
			alike++
			continue
		}
		out = append(out, most)
	}
	slices.SortStableFunc(out, func(a, b check.Pose) int { return cmp.Compare(math.Abs(b.Change()), math.Abs(a.Change())) })
	return out, alike
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
