package oracle

// About returns the rotation by angle about axis.
func About(axis Vec, angle Real) Quat {
	half := angle.times(-1)
	return Quat{Cos(half), axis.Unit().Scale(Sin(half))}
}

// Split returns the parts of q, which is not a half turn across axis, as
// swing*twist up to sign, both with a real part that is not negative, and the
// cosine of half the swing.
func Split(q Quat, axis Vec) (swing, twist Quat, condition Real) {
	q, axis = q.Unit(), axis.Unit()
	p := q.V.Dot(axis)
	if q.W.Sign() < 0 {
		q, p = q.Neg(), p.Neg()
	}
	condition = q.W.Mul(q.W).Add(p.Mul(p)).Sqrt()
	twist = Quat{q.W, axis.Scale(p)}.Unit()
	return q.Mul(twist.Conj()), twist, condition
}

// TwistAngle returns the angle of q's twist about axis, in (-pi, pi].
func TwistAngle(q Quat, axis Vec) Real {
	p := q.V.Dot(axis.Unit())
	if q.W.Sign() < 0 || q.W.Sign() == 0 && p.Sign() < 0 {
		return Atan2(p.Neg(), q.W.Neg()).times(1)
	}
	return Atan2(p, q.W).times(1)
}

// Arc returns the shortest rotation that carries the direction of from to that
// of to, which is not opposite.
func Arc(from, to Vec) Quat {
	from = from.Unit()
	half := from.Add(to.Unit()).Unit()
	return Quat{from.Dot(half), from.Cross(half)}
}
