package engine

import (
	"runtime"

	"github.com/pronate/pronate/chain"
)

// SolvePacked solves n poses by address, quaternions x, y, z, w side by side, on
// the caller's thread; see pronate_solve_f32. It allocates nothing but errors.
func SolvePacked[F float32 | float64](h Handle, dst, joints, tips *F, n uint64) (chain.Outcome, error) {
	l := limbs.lookup(h)
	if l == nil {
		return chain.Outcome{}, noLimb(h)
	}
	poses, err := count(n)
	if err != nil {
		return chain.Outcome{}, err
	}
	segments := l.Segments()
	to, err := packed("dst", dst, poses, 4*segments)
	if err != nil {
		return chain.Outcome{}, err
	}
	from, err := packed("joints", joints, poses, 4)
	if err != nil {
		return chain.Outcome{}, err
	}
	var far []F
	if l.hasTip && poses > 0 {
		if tips == nil {
			return chain.Outcome{}, noTips("tips")
		}
		if far, err = packed("tips", tips, poses, 4); err != nil {
			return chain.Outcome{}, err
		}
	}
	return Solve(l, chain.Quaternions(to, segments), chain.Quaternions(from, 1), chain.Quaternions(far, 1), poses, 1)
}

// SolveLayout solves n poses by address in any layout, on up to so many threads;
// see pronate_solve_layout_f32.
func SolveLayout[F float32 | float64](h Handle, dst, joints, tips *Layout[F], n uint64, threads uint32) (chain.Outcome, error) {
	l := limbs.lookup(h)
	if l == nil {
		return chain.Outcome{}, noLimb(h)
	}
	poses, err := count(n)
	if err != nil {
		return chain.Outcome{}, err
	}
	to, err := dst.rotations("dst", poses, l.Segments())
	if err != nil {
		return chain.Outcome{}, err
	}
	from, err := joints.rotations("joints", poses, 1)
	if err != nil {
		return chain.Outcome{}, err
	}
	var far chain.Rotations[F]
	if l.hasTip && poses > 0 {
		if tips == nil {
			return chain.Outcome{}, noTips("tips")
		}
		if far, err = tips.rotations("tips", poses, 1); err != nil {
			return chain.Outcome{}, err
		}
	}
	workers := 1
	if threads > 1 { // more than there are processors to run them only wait for one another
		workers = int(min(uint64(threads), uint64(runtime.GOMAXPROCS(0))))
	}
	return Solve(l, to, from, far, poses, workers)
}
