package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"os"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/wholefile"
	"github.com/spf13/cobra"
)

// standard stands for standard input or output where a file is asked for.
const standard = "-"

// open reads a character from a file, or from standard input.
func open(c *cobra.Command, name string) (*asset.File, error) {
	if name != standard {
		return asset.Open(name)
	}
	data, err := read(c, name)
	if err != nil {
		return nil, err
	}
	return asset.Decode("standard input", data, nil)
}

// read reads a file, or standard input.
func read(c *cobra.Command, name string) ([]byte, error) {
	if name != standard {
		return os.ReadFile(name)
	}
	data, err := io.ReadAll(c.InOrStdin())
	if err != nil {
		return nil, fmt.Errorf("standard input: %w", err)
	}
	return data, nil
}

// apart refuses to write over the character that is read, by whatever name.
func apart(in, out string) error {
	if in == standard || out == standard {
		return nil
	}
	source, err := os.Stat(in)
	if err != nil {
		return nil // reading it will say why
	}
	if result, err := os.Stat(out); err == nil && os.SameFile(source, result) {
		return usagef("-o %s: is the character read, expected another name", out)
	}
	return nil
}

// write puts data into a file, whole or not at all, or on standard output.
func write(c *cobra.Command, name string, data []byte) error {
	if name == standard {
		_, err := c.OutOrStdout().Write(data)
		return err
	}
	return wholefile.Write(name, data)
}

// printJSON prints a machine-readable report.
func printJSON(c *cobra.Command, report any) error {
	data, err := encodeJSON(report)
	if err != nil {
		return err
	}
	return write(c, standard, data)
}

func encodeJSON(value any) ([]byte, error) {
	var out bytes.Buffer
	encoder := json.NewEncoder(&out)
	encoder.SetEscapeHTML(false)
	encoder.SetIndent("", "  ")
	err := encoder.Encode(value)
	return out.Bytes(), err
}
