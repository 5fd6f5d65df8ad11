package kernel

import "unsafe"

// order is how the components of a rotation lie to one another.
type order uint8

const (
	apart  order = iota // anyhow
	planes              // each component's are side by side: stride 1
	wxyz                // a rotation's are side by side, in this order
	xyzw
	xyz // a direction's
)

// order finds out, for the paths that are written for one of them.
func (v *View[F]) order() order {
	w, x, y, z := address(v.W), address(v.X), address(v.Y), address(v.Z)
	size := unsafe.Sizeof(F(0))
	switch {
	case v.Stride == 1:
		return planes
	case v.Stride < 4 || y-x != size || z-y != size: // those that overlap are written one after the other
		return apart
	case x-w == size:
		return wxyz
	case w-z == size:
		return xyzw
	}
	return apart
}

// directionOrder is order for directions.
func (v *View[F]) directionOrder() order {
	size := unsafe.Sizeof(F(0))
	x, y, z := address(v.X), address(v.Y), address(v.Z)
	switch {
	case v.Stride == 1:
		return planes
	case v.Stride >= 3 && y-x == size && z-y == size:
		return xyz
	}
	return apart
}

func address[F Real](s []F) uintptr { return uintptr(unsafe.Pointer(unsafe.SliceData(s))) }
