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
	"gonum.org/v1/plot/vg"
)

// LimbNodes names the nodes that its roll is measured by.
type LimbNodes struct {
	Anchor, Joint, End string // the torso's joint, the split one, the next
	Root               string // the segment at the root
}

// Roll is how a limb's root segment turns about the bone in a clip, as seen from the
// anchor, in radians.
type Roll struct {
	Times []float64
	// Angles are what it turns beyond following the bone the shortest way from moment
	// to moment, added up from the clip's beginning.
	Angles []float64
	// Twists are how far it is turned against the shortest arc from rest: by so much
	// the skin at the root is twisted.
	Twists []float64
}

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
	rested, restAlong := seenFrom(e.World(-1, 0), nodes)
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
		arc, _ := swing.Arc(restAlong, along)
		turned, _ := twist.Angle(quat.Mul(now, quat.Conj(quat.Mul(arc, rested))), along)
		out.Twists = append(out.Twists, turned)
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

// PlotRolls plots up to four curves over the time of a clip: on the left the roll, on
// the right the twist at the root.
func PlotRolls(what string, curves []RollCurve, theme Theme) (Plots, error) {
	key := newKey(len(curves), theme)
	plots := Plots{Width: 4.6 * vg.Inch, Height: 2.9 * vg.Inch, Paper: theme.Paper, Key: key}
	for column, of := range []struct {
		title, label string
		angles       func(Roll) []float64
	}{
		{what + ": roll", "roll, degrees", func(r Roll) []float64 { return r.Angles }},
		{what + ": twist at the root", "twist, degrees", func(r Roll) []float64 { return r.Twists }},
	} {
		p := newPlot(of.title, "time, s", of.label, theme)
		p.Y.Tick.Marker = degreeTicks
		p.Add(faintGrid(theme))
		for i, curve := range curves {
			points := make(plotter.XYs, len(curve.Times))
			for k := range points {
				points[k] = plotter.XY{X: curve.Times[k], Y: of.angles(curve.Roll)[k] * 180 / math.Pi}
			}
			line, err := plotter.NewLine(points)
			if err != nil {
				return plots, fmt.Errorf("report: %s of %q: %w", of.label, curve.Name, err)
			}
			line.LineStyle = lineOf(i, theme)
			p.Add(line)
			if column == 0 {
				key.add(curve.Name, line)
			}
		}
		plots.Columns = append(plots.Columns, []*plot.Plot{p})
	}
	return plots, nil
}
