package main

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"

	"github.com/apache/beam/sdks/v2/go/pkg/beam/io/filesystem"
)

// writeWhole puts data at place whole or not at all. Where the file system can
// rename, it goes by way of a name that no other attempt has; where it cannot, as
// in an object store, an object comes to be when it is closed.
func writeWhole(ctx context.Context, files filesystem.Interface, place string, data []byte) error {
	if err := write(ctx, files, place, data); err != nil {
		return fmt.Errorf("%s: %w", place, err)
	}
	return nil
}

func write(ctx context.Context, files filesystem.Interface, place string, data []byte) error {
	renamer, ok := files.(filesystem.Renamer)
	if !ok {
		return filesystem.Write(ctx, files, place, data) // closes it only if all was taken
	}
	temporary := under(folderOf(place), "."+rand.Text()+".part") // no character's ending
	err := fill(ctx, files, temporary, data)
	if err == nil {
		err = renamer.Rename(ctx, temporary, place)
	}
	if remover, ok := files.(filesystem.Remover); ok && err != nil {
		remover.Remove(ctx, temporary)
	}
	return err
}

func fill(ctx context.Context, files filesystem.Interface, place string, data []byte) error {
	file, err := files.OpenWrite(ctx, place)
	if err != nil {
		return err
	}
	_, err = file.Write(data)
	return errors.Join(err, file.Close())
}
