package skin

// TrianglesOf marks the triangles that one of the joints holds in any vertex
// with any weight: a limb, given its joint and its segments. It overwrites dst,
// grown if need be, and returns it, one mark a triangle. Vertices out of range
// and joints that hold nothing are passed over.
func (m Mesh) TrianglesOf(dst []bool, joints ...int) []bool {
	dst = sized(dst, len(m.Triangles))
	for i, t := range m.Triangles {
		dst[i] = m.holds(t[0], joints) || m.holds(t[1], joints) || m.holds(t[2], joints)
	}
	return dst
}

func (m Mesh) holds(v int, joints []int) bool {
	if v < 0 || v >= len(m.Influences) {
		return false
	}
	for _, held := range m.Influences[v] {
		for _, joint := range joints {
			if held.Joint == joint && held.Weight > 0 {
				return true
			}
		}
	}
	return false
}

// Sides parts the triangles of a mesh into those that the joints in a hold more
// than those in b, by the sum of the weights on the three vertices, and the
// others of the two: the two sides of the hinge between them. Triangles that
// neither holds are on no side.
func (m Mesh) Sides(a, b []int) (sideA, sideB []bool) {
	sideA, sideB = make([]bool, len(m.Triangles)), make([]bool, len(m.Triangles))
	for i, t := range m.Triangles {
		var holdA, holdB float64
		for _, v := range t {
			holdA += m.weightOf(v, a)
			holdB += m.weightOf(v, b)
		}
		sideA[i] = holdA >= holdB && holdA > 0
		sideB[i] = holdB > holdA
	}
	return sideA, sideB
}

func (m Mesh) weightOf(v int, joints []int) float64 {
	var sum float64
	if v < 0 || v >= len(m.Influences) {
		return sum
	}
	for _, held := range m.Influences[v] {
		for _, joint := range joints {
			if held.Joint == joint && held.Weight > 0 {
				sum += held.Weight
			}
		}
	}
	return sum
}
