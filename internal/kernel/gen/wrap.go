package main

// wrapHalf is the function of that name; turned is a mask of those it changed.
func (l lanes) wrapHalf(half vector) (wrapped, turned vector) {
	turned = l.compare(l.without(half, l.load(l.sign())), greater, l.number(halfPi))
	turn := l.or(l.and(half, l.sign()), l.number(pi)) // with the sign of half
	return l.sub(half, l.and(turn, turned)), turned
}
