//go:build !amd64 || purego

package kernel

// There is no assembly here: the plain passes do it all.
const fast = false

func (s *Swing[F]) fastTwists(*turns[F], *View[F], int, int) (odd uint64, done int) { return 0, 0 }

func (l *Law[F]) fastRotate(*tile[F], *View[F], int, int) bool { return false }

func (a *Aim[F]) fastAims(dst, joints, targets *View[F], first, n int) (done int) { return 0 }

// HasFast tells whether this build has assembly that the processor can run.
func HasFast() bool { return false }

// UseFast does nothing here; where there is assembly it switches it.
func UseFast(bool) (was bool) { return false }
