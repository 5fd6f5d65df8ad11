package main

import (
	"encoding/json"
	"fmt"
	"io"

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
	data, err := io.ReadAll(c.InOrStdin())
	if err != nil {
		return nil, fmt.Errorf("standard input: %w", err)
	}
	return asset.Decode("standard input", data, nil)
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
	encoder := json.NewEncoder(c.OutOrStdout())
	encoder.SetEscapeHTML(false)
	encoder.SetIndent("", "  ")
	return encoder.Encode(report)
}
