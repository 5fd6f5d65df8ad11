package main

import (
	"bytes"
	"context"
	"errors"
	"io"
	"path/filepath"
	"testing"

	"github.com/apache/beam/sdks/v2/go/pkg/beam/io/filesystem"
	"github.com/stretchr/testify/require"
)

// A failure of writing leaves the old output, and nothing half-written.
func TestWriteWhole(t *testing.T) {
	folder := t.TempDir()
	place := under(filepath.ToSlash(folder), "sub/a.glb")
	local, err := filesystem.New(t.Context(), place)
	require.NoError(t, err)
	require.NoError(t, writeWhole(t.Context(), local, place, []byte("old")))
	for _, full := range []filesystem.Interface{fullDisk{local}, fullStore{fullDisk{local}}} {
		require.EqualError(t, writeWhole(t.Context(), full, place, []byte("new one")), place+": disk full")
		require.Equal(t, map[string]string{"sub/a.glb": "old"}, contents(t, folder))
	}
	require.NoError(t, writeWhole(t.Context(), local, place, []byte("new")))
	require.Equal(t, map[string]string{"sub/a.glb": "new"}, contents(t, folder))
}

// fullDisk takes three bytes of any file.
type fullDisk struct{ filesystem.Interface }

func (d fullDisk) OpenWrite(ctx context.Context, place string) (io.WriteCloser, error) {
	file, err := d.Interface.OpenWrite(ctx, place)
	return fullFile{file}, err
}

func (d fullDisk) Rename(ctx context.Context, from, to string) error {
	return d.Interface.(filesystem.Renamer).Rename(ctx, from, to)
}

func (d fullDisk) Remove(ctx context.Context, place string) error {
	return d.Interface.(filesystem.Remover).Remove(ctx, place)
}

type fullFile struct{ io.WriteCloser }

func (f fullFile) Write(data []byte) (int, error) {
	n, _ := f.WriteCloser.Write(data[:min(3, len(data))])
	return n, errors.New("disk full")
}

// fullStore is one like an object store: it cannot rename, and has an object once
// it is closed.
type fullStore struct{ disk fullDisk }

func (s fullStore) Close() error { return nil }
func (s fullStore) List(ctx context.Context, glob string) ([]string, error) {
	return s.disk.List(ctx, glob)
}
func (s fullStore) OpenRead(ctx context.Context, place string) (io.ReadCloser, error) {
	return s.disk.OpenRead(ctx, place)
}
func (s fullStore) Size(ctx context.Context, place string) (int64, error) {
	return s.disk.Size(ctx, place)
}
func (s fullStore) OpenWrite(ctx context.Context, place string) (io.WriteCloser, error) {
	return &object{store: s, place: place}, nil
}

type object struct {
	bytes.Buffer
	store fullStore
	place string
}

func (o *object) Write([]byte) (int, error) { return 0, errors.New("disk full") }
func (o *object) Close() error {
	return filesystem.Write(context.Background(), o.store.disk.Interface, o.place, o.Bytes())
}
