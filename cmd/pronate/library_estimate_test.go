package main

import (
	"testing"
	"time"

	"github.com/pronate/pronate/internal/library"
	"github.com/stretchr/testify/require"
)

func TestLibraryEstimate(t *testing.T) {
	start := time.Now()
	e := newEstimate([]library.Job{{Size: 100}, {Size: 100}, {Size: 300}})
	require.Empty(t, e.text(start))
	e.count(library.Result{Job: library.Job{Size: 100}, Status: library.UpToDate}, start)
	require.Empty(t, e.text(start))
	e.count(library.Result{Job: library.Job{Size: 100}, Status: library.Split}, start.Add(10*time.Second))
	require.Equal(t, ", about 30s left", e.text(start.Add(10*time.Second)))
	require.Equal(t, ", about 20s left", e.text(start.Add(20*time.Second)))
	require.Equal(t, ", about 0s left", e.text(start.Add(time.Hour)))
}
