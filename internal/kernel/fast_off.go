//go:build !amd64 || purego

package kernel

// There is no assembly here: the plain passes do it all.
const fast = false

func (s *Swing[F]) fastTwists(*turns[F], *lanes[F], int, int) (odd uint64, done int) { return 0, 0 }

func (l *Law[F]) fastRotate(*turns[F], *lanes[F], uintptr, int, int) bool { return false }

func (a *Aim[F]) fastTurns(*aims[F], *lanes[F], *lanes[F], int, int) (odd uint64, done int) {
	return 0, 0
}

func (t *aims[F]) fastFinish(*lanes[F], int, int) bool { return false }

// HasFast tells whether this build has assembly that the processor can run.
func HasFast() bool { return false }

// UseFast does nothing here; where there is assembly it switches it.
func UseFast(bool) (was bool) { return false }
