package check

import (
	"math"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/chain/skin"
	"gonum.org/v1/gonum/spatial/r3"
)

// counts are the numbers of segments that are compared.
var counts = []int{1, 2, 3, 4, 5, 6}

// weighCounts splits the character into more and fewer segments and measures
// its limbs at the greatest of the twists.
func (c *inspection) weighCounts() error {
	if len(c.limbs) == 0 {
		return nil
	}
	bare, err := asset.WithoutClips(c.file)
	if err != nil {
		return err
	}
	poses := c.greatestTwists()
	posed, err := asset.AddClip(bare, clipOf(bare, poses))
	if err != nil {
		return err
	}
	rows := map[[2]int]Count{}
	for _, n := range counts {
		split, report := posed, asset.Report{}
		if n > 1 {
			specs := make([]asset.LimbSpec, len(c.chosen))
			for i, s := range c.chosen {
				s.Segments = n
				s.Stretch, s.Crease = nil, nil // no twist moves them
				if s.Shares.List != nil {
					s.Shares = asset.Shares{Ramp: asset.SharesLinear}
				}
				specs[i] = s
			}
			if split, report, err = asset.Split(posed, asset.Options{Limbs: specs, AsAsked: true, Basis: c.options.Basis, Influences: c.options.Influences}); err != nil {
				return err
			}
		}
		e, err := split.Evaluator()
		if err != nil {
			return err
		}
		mesh, err := e.Mesh()
		if err != nil {
			return err
		}
		for limb, l := range report.Limbs {
			c.findings.Limbs[limb].crowded[n] = l.WeightMovedMax > 0.1
		}
		var dual []r3.Vec
		for k, p := range poses {
			world := e.World(0, p.time)
			linear := c.gauges[p.limb].measure(e.Vertices(world))
			enough := &c.findings.Limbs[p.limb].EnoughForClips
			if k < len(c.limbs) {
				enough = &c.findings.Limbs[p.limb].Enough
			}
			if *enough == 0 && n > 1 && linear.Radius >= kept {
				*enough = n
			}
			if k >= len(c.limbs) {
				continue
			}
			dual = e.Blended(dual, mesh, world)
			blended := c.gauges[p.limb].measure(dual)
			span := weighed * math.Pi / 180 / float64(max(n-1, 1))
			rows[[2]int{p.limb, n}] = Count{
				Limb: c.limbs[p.limb].Spec.Name, Twist: weighed, Segments: n,
				Radius: linear.Radius, Volume: linear.Volume,
				DualRadius: blended.Radius, DualVolume: blended.Volume,
				Formula: skin.RadiusFactor(0.5, span),
			}
		}
		c.advance(1)
	}
	for limb := range c.limbs {
		for _, n := range counts {
			row, l := rows[[2]int{limb, n}], &c.findings.Limbs[limb]
			if c.findings.Tradeoff = append(c.findings.Tradeoff, row); n == l.Segments {
				l.RadiusAtTwist, l.VolumeAtTwist = row.Radius, row.Volume
			}
		}
	}
	return nil
}

// greatestTwists are, for every limb, the greatest of the twists, and after them
// the greatest that clips twist limbs by, as far as that is less than half a
// turn.
func (c *inspection) greatestTwists() (poses []planned) {
	for limb, l := range c.limbs {
		poses = append(poses, twisted(limb, l, weighed))
	}
	for limb, l := range c.limbs {
		if most := c.findings.Limbs[limb].ClipsTwist; most >= 1 && most < 180 {
			poses = append(poses, twisted(limb, l, most))
		}
	}
	for i := range poses {
		poses[i].time = float64(i + 1)
	}
	return poses
}
