//go:build cgo

package main

import (
	"testing"

	"github.com/pronate/pronate/chain"
	"github.com/pronate/pronate/internal/engine"
	"github.com/stretchr/testify/require"
)

// No panic reaches C: it becomes a status.
func TestGuard(t *testing.T) {
	status := done(chain.Outcome{}, 0, engine.Remark)
	require.EqualValues(t, engine.OK, status)
	func() {
		defer guard(&status)
	}()
	require.EqualValues(t, engine.OK, status)
	func() {
		defer guard(&status)
		var none []int
		none[len(t.Name())]++
	}()
	require.EqualValues(t, engine.Fault, status)
}
