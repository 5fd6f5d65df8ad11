package report

import (
	"fmt"
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/rest"
	"github.com/pronate/pronate/swing"
	"github.com/pronate/pronate/twist"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
)

// LimbNodes names the nodes that its roll is measured by.
type LimbNodes struct {
	Anchor, Joint, End string // the torso's joint, the split one, the next
	Root               string // the segment at the root
}

// Roll is how a limb's root segment rolls about the bone in a clip, as seen
// from the anchor: what it turns beyond following the bone the shortest way,
// added up from the clip's beginning, in radians.
type Roll struct{ Times, Angles []float64 }

// rollRate is the number of samples in a second: shortest arcs between them
// leave out less than a thousandth of the angle that clips turn.
const rollRate = 240

// MeasureRoll follows the root segment through a clip of a split character, as
// any viewer plays it.
func MeasureRoll(e *asset.Evaluator, clip string, by LimbNodes) (Roll, error) {
	index := slices.Index(e.Clips(), clip)
	nodes := [4]int{e.Node(by.Anchor), e.Node(by.Joint), e.Node(by.End), e.Node(by.Root)}
	if index < 0 || min(nodes[0], nodes[1], nodes[2], nodes[3]) < 0 {
		return Roll{}, fmt.Errorf("report: clip %q of bone %+v is not in the character", clip, by)
	}
	first, last := e.Span(index)
	steps := max(1, int(math.Ceil((last-first)*rollRate)))
	var out Roll
	var before quat.Number
	var pointed r3.Vec
	sum := 0.
	for i := range steps + 1 {
		t := first + (last-first)*float64(i)/float64(steps)
		world := e.World(index, t)
		now, along := seenFrom(world, nodes)
		if i > 0 {
			arc, _ := swing.Arc(pointed, along)
			turned, _ := twist.Angle(quat.Mul(now, quat.Conj(quat.Mul(arc, before))), along)
			sum += turned
		}
		before, pointed = now, along
		out.Times = append(out.Times, t-first)
		out.Angles = append(out.Angles, sum)
	}
	return out, nil
}

// seenFrom is the root segment's rotation and the bone's direction in the
// anchor's frame.
func seenFrom(world []mgl64.Mat4, nodes [4]int) (root quat.Number, along r3.Vec) {
	anchor, _ := rest.Anchor(world[nodes[0]])
	segment, _ := rest.Anchor(world[nodes[3]])
	inverse := anchor.Inverse()
	place := func(node int) r3.Vec { return rest.VecFromMgl64(world[node].Col(3).Vec3()) }
	return inverse.Mul(segment).Unit(), inverse.Direction(r3.Sub(place(nodes[2]), place(nodes[1])))
}

// RollCurve is one curve of PlotRolls.
type RollCurve struct {
	Name string
	Roll
}

// PlotRolls plots up to three curves over the time of a clip.
func PlotRolls(title string, curves []RollCurve, theme Theme) (*plot.Plot, error) {
	p := newPlot(title, "time, s", "roll, degrees", theme)
	p.Y.Tick.Marker = degreeTicks
	p.Add(faintGrid(theme))
	p.Legend.Top = true
	for i, curve := range curves {
		points := make(plotter.XYs, len(curve.Times))
		for k := range points {
			points[k] = plotter.XY{X: curve.Times[k], Y: curve.Angles[k] * 180 / math.Pi}
		}
		line, err := plotter.NewLine(points)
		if err != nil {
			return nil, fmt.Errorf("report: roll of %q: %w", curve.Name, err)
		}
		line.LineStyle = lineOf(i, theme)
		p.Add(line)
		p.Legend.Add(curve.Name, line)
	}
	return p, nil
}
