package check

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/chain/skin"
	"github.com/pronate/pronate/internal/parallel"
	"github.com/pronate/pronate/twist"
	"gonum.org/v1/gonum/spatial/r3"
)

// Fold is how deep the two sides of a hinge lie in one another when it is
// closed, in metres.
type Fold struct {
	Joint   string  `json:"joint"`
	Flexion float64 `json:"flexion_deg"`
	Before  float64 `json:"source_m"`
	After   float64 `json:"split_m"`
	Length  float64 `json:"limb_length_m"` // of the bone before the hinge

	// The strain of all skin with the hinge closed.
	StrainBefore float64 `json:"source_strain"`
	StrainAfter  float64 `json:"split_strain"`

	bend float64 // when the clip of the poses shows it
	limb int     // whose end the hinge is, of those asked for
}

// closing is how far hinges are closed, in degrees: elbows to 140, knees to 135
// (flexion of 150 and 135 in the AAOS tables, the second from memory; the elbow
// a little less).
func closing(kind string) float64 {
	if kind == "knee" {
		return 135
	}
	return 140
}

// findHinges looks at knees and elbows in the clips that the character came
// with, and plans to close them.
func (c *inspection) findHinges() (err error) {
	limbs := c.asked
	if len(limbs) == 0 {
		limbs = nil // nothing is to be split, and the clips have hinges all the same
	}
	hinges, err := asset.AuditHinges(c.file, asset.AuditOptions{Limbs: limbs})
	if errors.Is(err, asset.ErrNoHinges) {
		return nil
	}
	if err != nil {
		return err
	}
	c.findings.Hinges = hinges
	source, err := c.file.Evaluator()
	if err != nil {
		return err
	}
	for _, h := range c.findings.Hinges {
		for i := range h.Clips {
			clip := &h.Clips[i]
			clip.TwistDeg, clip.SideBendDeg = clip.TwistDeg+0, clip.SideBendDeg+0 // never -0
		}
		node := source.Node(h.Joint)
		limb := slices.IndexFunc(c.all, func(l asset.LimbInfo) bool { return source.Node(l.Spec.End.Joint) == node && l.Spec.End.Joint != "" })
		if limb < 0 {
			continue
		}
		degrees := closing(h.Kind)
		p := planned{
			limb: limb, kind: bend, node: node, time: float64(len(c.poses) + len(c.closings) + 1),
			turn: twist.About(r3.Vec{X: h.Axis[0], Y: h.Axis[1], Z: h.Axis[2]}, degrees*math.Pi/180),
		}
		c.closings = append(c.closings, p)
		c.findings.Folds = append(c.findings.Folds, Fold{Joint: h.Joint, Flexion: degrees, bend: p.time, limb: limb, Length: c.all[limb].Length})
	}
	return nil
}

// bend is the kind of the poses that close a hinge: they are not measured as
// poses of a limb.
const bend Kind = "bend"

// closed is a closed hinge: how deep its sides lie in one another, and the strain.
type closed struct{ overlap, strain float64 }

// measureFolds measures how deep the sides of closed hinges lie in one another.
func (c *inspection) measureFolds() error {
	source := &measurement{after: c.before}
	if err := c.close(source); err != nil {
		return err
	}
	if err := c.close(c.base); err != nil {
		return err
	}
	for i := range c.findings.Folds {
		f, before, after := &c.findings.Folds[i], source.folds[i], c.base.folds[i]
		f.Before, f.After, f.StrainBefore, f.StrainAfter = before.overlap, after.overlap, before.strain, after.strain
	}
	return nil
}

// close measures the closed hinges of one way to split the character.
func (c *inspection) close(m *measurement) error {
	clip := len(c.before.Clips()) - 1
	return c.closeIn(m, clip, c.closings)
}

// closeIn is close with the poses of a clip.
func (c *inspection) closeIn(m *measurement, clip int, closings []planned) error {
	world := c.before.World(asset.Rest, 0)
	m.folds = make([]closed, len(closings))
	errs := make([]error, len(closings))
	parallel.Each(len(closings), func(i int) {
		f := c.findings.Folds[i]
		near, node := c.all[f.limb], c.before.Node(f.Joint)
		a, b := c.mesh.Sides([]int{near.Joint}, []int{node})
		at := r3.Vec{X: world[node][12], Y: world[node][13], Z: world[node][14]}
		// Within half a bone of the hinge; skin within a twentieth of the other
		// side belongs to both.
		fold, err := skin.NewFold(c.mesh, a, b, skin.Hinge{At: at, Radius: near.Length / 2, Join: near.Length / 20})
		if err != nil {
			errs[i] = fmt.Errorf("%s: joint %q: %w", c.file.Name, f.Joint, err)
			return
		}
		posed := posedAt(m.after, clip, closings[i].time)
		_, found := fold.Measure(nil, posed)
		m.folds[i] = closed{overlap: found.Worst, strain: c.strains.of(posed)}
	})
	return errors.Join(errs...)
}
