package asset

import (
	"math"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/require"
)

// The frame of a skin is that of the mesh as exporters have it: the world, a wearer's
// frame, or any other one; in a pose too, and with the hips turned.
func TestFrameOfASkin(t *testing.T) {
	// A spine along +Y, and the same +Z up, as in files whose skeleton hangs from a
	// node that turns it.
	up := mgl64.HomogRotate3DX(-math.Pi / 2)
	other := mgl64.Translate3D(3, 1, -2).Mul4(mgl64.HomogRotate3D(2, mgl64.Vec3{0.6, 0, 0.8})).Mul4(mgl64.Scale3D(100, 100, 100))
	for name, c := range map[string]struct {
		frame, wearer mgl64.Mat4 // of the mesh's space, and of the node
		hips          float64    // radians
		want          int        // candidate
	}{
		"world":                  {mgl64.Ident4(), up, 0.2, 0},
		"world, hips turned":     {mgl64.Ident4(), up, 0.5, 0},
		"wearer":                 {up, up, 0.2, 1},
		"neither":                {other, up, 0, 2},
		"neither, nor the world": {other, mgl64.Ident4(), 0, 2},
	} {
		const joints = 6
		b := binder{file: &File{}, world: make([]mgl64.Mat4, joints+1)}
		s := boundSkin{wearer: joints}
		b.world[joints] = c.wearer
		for i := range joints {
			bind := mgl64.Translate3D(0.1*float64(i%2), 0.4*float64(i), 0)
			local := mgl64.Translate3D(0, 0.4, 0).Mul4(mgl64.HomogRotate3DZ(0.1))
			if i == 0 {
				local = mgl64.HomogRotate3DX(c.hips)
			} else {
				local = b.world[i-1].Mul4(local)
			}
			b.world[i] = local
			b.order = append(b.order, i)
			s.joints = append(s.joints, i)
			s.inverse = append(s.inverse, bind.Inv().Mul4(c.frame))
			s.binds = append(s.binds, c.frame.Inv().Mul4(bind))
		}
		b.reach = extentOf(b.world[:joints])
		got, ok := b.frame(&s)
		require.True(t, ok, name)
		want := []mgl64.Mat4{mgl64.Ident4(), c.wearer, b.atRoot(&s)}[c.want]
		require.Equal(t, want, got, name)
	}
}

// Nodes that are flat do not say where the joints belong.
func TestNoFrameOfASkin(t *testing.T) {
	b := binder{file: &File{}, world: []mgl64.Mat4{mgl64.Scale3D(0, 1, 1), mgl64.Scale3D(0, 1, 1)}, order: []int{0, 1}}
	s := boundSkin{joints: []int{0, 1}, inverse: []mgl64.Mat4{mgl64.Ident4(), mgl64.Ident4()}, binds: []mgl64.Mat4{mgl64.Ident4(), mgl64.Ident4()}}
	_, ok := b.frame(&s)
	require.False(t, ok)
}
