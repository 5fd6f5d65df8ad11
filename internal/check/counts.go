package check

import (
	"math"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/chain/skin"
	"gonum.org/v1/gonum/spatial/r3"
)

// counts are the numbers of segments that are weighed against one another.
var counts = []int{1, 2, 3, 4, 5}

// weighCounts splits the character into more and fewer segments and measures
// its limbs at the greatest of the twists.
func (c *inspection) weighCounts() error {
	bare, err := asset.WithoutClips(c.file)
	if err != nil {
		return err
	}
	posed, err := asset.AddClip(bare, clipOf(bare, c.poses))
	if err != nil {
		return err
	}
	rows := map[[2]int]Count{}
	for _, n := range counts {
		split := posed
		if n > 1 {
			specs := make([]asset.LimbSpec, len(c.specs))
			for i, s := range c.specs {
				s.Segments = n
				if s.Shares.List != nil {
					s.Shares = asset.Shares{Ramp: asset.SharesLinear}
				}
				specs[i] = s
			}
			if split, _, err = asset.Split(posed, asset.Options{Limbs: specs, Basis: c.options.Basis, Influences: c.options.Influences}); err != nil {
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
		var dual []r3.Vec
		for _, p := range c.poses {
			if p.kind != Twist || p.name != c.greatestTwist(p.limb) {
				continue
			}
			world := e.World(0, p.time)
			linear := c.gauges[p.limb].measure(e.Vertices(world))
			dual = e.Blended(dual, mesh, world)
			blended := c.gauges[p.limb].measure(dual)
			span := twists[len(twists)-1] * math.Pi / 180 / float64(max(n-1, 1))
			rows[[2]int{p.limb, n}] = Count{
				Limb: c.limbs[p.limb].Spec.Name, Twist: twists[len(twists)-1], Segments: n,
				Radius: linear.Radius, Volume: linear.Volume,
				DualRadius: blended.Radius, DualVolume: blended.Volume,
				Formula: skin.RadiusFactor(0.5, span),
			}
		}
		c.advance(1)
	}
	for limb := range c.limbs {
		for _, n := range counts {
			c.findings.Tradeoff = append(c.findings.Tradeoff, rows[[2]int{limb, n}])
		}
	}
	return nil
}

// greatestTwist is the name of the limb's last pose of the twists.
func (c *inspection) greatestTwist(limb int) (name string) {
	for _, p := range c.poses {
		if p.limb == limb && p.kind == Twist {
			name = p.name
		}
	}
	return name
}
