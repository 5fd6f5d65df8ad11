package asset

import (
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/rest"
)

// frame chooses the frame of a skin that shares no joint with those placed, among:
// the world itself, as of most exporters; that of a node that wears the skin, which
// glTF ignores and exporters do not; and that which puts the topmost joint where its
// node stands.
//
// One that makes the bind pose the node pose, to noise, is right. Else the first is
// that is not clearly worse than the best of them: what turns by a right angle, as
// from +Z up to +Y up, differs from a pose of the same body by the angle of most
// joints. False where there is none.
func (b *binder) frame(s *boundSkin) (mgl64.Mat4, bool) {
	candidates := []mgl64.Mat4{mgl64.Ident4(), b.world[s.wearer], b.atRoot(s)}
	var misfits []misfit
	best := math.Inf(1)
	for _, c := range candidates {
		m := b.misfit(s, c)
		if m.distance <= bindNoise*b.reach && m.angle <= bindNoise && m.growth <= bindNoise {
			return c, true
		}
		misfits = append(misfits, m)
		best = min(best, m.sum(b.reach))
	}
	if math.IsInf(best, 0) {
		return mgl64.Mat4{}, false
	}
	// Three quarters of a right angle: an exchange of axes costs a whole one and the
	// distances that come with it, and in a pose with the hips turned the frame at the
	// topmost joint gains by as much as they turn.
	const clearly = 0.75
	for i, m := range misfits {
		if m.sum(b.reach) <= best+clearly {
			return candidates[i], true
		}
	}
	return mgl64.Mat4{}, false
}

// atRoot puts the skin's topmost joint where its node stands.
func (b *binder) atRoot(s *boundSkin) mgl64.Mat4 {
	at := map[int]int{}
	for i, joint := range s.joints {
		at[joint] = i
	}
	for _, node := range b.order {
		if i, ok := at[node]; ok {
			return b.world[node].Mul4(s.inverse[i])
		}
	}
	return mgl64.Ident4()
}

// misfit is how far a bind pose is from the node pose: medians over the joints, so
// that limbs in some pose do not count.
type misfit struct {
	distance float64 // in the world
	angle    float64 // radians
	growth   float64 // of the joints' frames, as the absolute value of the natural logarithm
}

// sum makes the three one number: 1 for a right angle, for half of the extent, or
// for twice or half the size.
func (m misfit) sum(reach float64) float64 {
	return m.angle/(math.Pi/2) + m.distance/max(reach/2, math.SmallestNonzeroFloat64) + m.growth/math.Ln2
}

func (b *binder) misfit(s *boundSkin, frame mgl64.Mat4) misfit {
	var distances, angles, growths []float64
	for i, joint := range s.joints {
		bind, own := frame.Mul4(s.binds[i]), b.world[joint]
		distances = append(distances, bind.Col(3).Sub(own.Col(3)).Len())
		x, _ := rest.Anchor(bind)
		y, _ := rest.Anchor(own)
		before, after := own.Mat3().Det(), bind.Mat3().Det()
		angle, growth := math.Pi, math.Inf(1)
		if before*after > 0 { // else one is the other's mirror image, or flat
			angle, growth = turn(x.Unit(), y.Unit()), math.Abs(math.Log(after/before))/3
		}
		angles, growths = append(angles, angle), append(growths, growth)
	}
	return misfit{median(distances), median(angles), median(growths)}
}

// median is the upper one of an even number: of two joints, one of which stands at
// its node by definition, the other counts.
func median(x []float64) float64 {
	slices.Sort(x)
	return x[len(x)/2]
}
