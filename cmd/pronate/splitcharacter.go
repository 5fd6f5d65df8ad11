package main

import (
	"crypto/sha256"
	"encoding/hex"
	"iter"
	"os"
	"path/filepath"
	"strings"

	"github.com/pronate/pronate/chain/asset"
	"github.com/pronate/pronate/internal/library"
	"github.com/pronate/pronate/internal/wholefile"
	"github.com/spf13/cobra"
)

// resolvedName is the resolved limb file that a run on several files leaves beside
// its outputs.
const resolvedName = "resolved-limbs.yaml"

// characterFlags say what a split's automatic choices are made on, and whether there
// are any.
type characterFlags struct {
	character, resolved string
	asAsked             bool
}

func (f *characterFlags) register(c *cobra.Command) {
	flags := c.Flags()
	flags.StringVar(&f.character, "character", "", "the file with the character's skin, for files that hold its clips; what is left open is decided once, on it and all clips")
	flags.StringVar(&f.resolved, "resolved", "", "write the limb file with all that was decided (with --character and a folder: "+resolvedName+" in it)")
	flags.BoolVar(&f.asAsked, "as-asked", false, "decide nothing and measure nothing: split every limb, with the settings that it has")
	must(
		c.MarkFlagFilename("character", characterFiles...),
		c.MarkFlagFilename("resolved", limbFiles...),
	)
}

// check refuses a resolved limb file that would be written over a file which is read or
// written besides, and what is no file.
func (f *characterFlags) check(others ...string) error {
	if f.character == standard {
		return usagef("--character -: expected a file")
	}
	if f.resolved == "" {
		return nil
	}
	switch strings.ToLower(filepath.Ext(f.resolved)) {
	case ".yaml", ".yml":
	default:
		return usagef("--resolved %s: expected a name that ends in .yaml or .yml", f.resolved)
	}
	for _, other := range others {
		if other != "" && other != standard && (same(f.resolved, other) || samePath(f.resolved, other)) {
			return usagef("--resolved %s: is read or written besides, expected another name", f.resolved)
		}
	}
	return nil
}

func samePath(a, b string) bool {
	x, errX := filepath.Abs(a)
	y, errY := filepath.Abs(b)
	return errX == nil && errY == nil && x == y
}

// isAmong reports whether the character is one of the files or lies in one of the
// folders.
func (f *characterFlags) isAmong(paths []string) bool {
	body, err := filepath.Abs(f.character)
	if err != nil {
		return false
	}
	for _, path := range paths {
		path, err := filepath.Abs(path)
		if err != nil {
			continue
		}
		if within, err := filepath.Rel(path, body); err == nil && filepath.IsLocal(within) {
			return true
		}
	}
	return false
}

// choose settles the limbs on the character and the clips of other files.
func (f *characterFlags) choose(o *asset.Options, sources []string) (asset.Limbs, []asset.Choice, error) {
	body, err := asset.Open(f.character)
	if err != nil {
		return asset.Limbs{}, nil, err
	}
	if !body.HasSkin() {
		return asset.Limbs{}, nil, usagef("--character %s: it has no mesh under a skin, expected the file with the character's body", f.character)
	}
	o.Character = body
	if o.AsAsked {
		if o.Limbs == nil {
			detected, err := asset.Detect(body)
			if err != nil {
				return asset.Limbs{}, nil, err
			}
			o.Limbs = detected.Limbs
		}
		return asset.Limbs{Version: asset.LimbsVersion, Limbs: o.Limbs, Resolved: true}, nil, nil
	}
	limbs, choices, err := asset.Choose(body, f.clips(sources), *o)
	o.Limbs, o.AsAsked = limbs.Limbs, true
	return limbs, choices, err
}

// clips reads the files of clips, one at a time. A file that cannot be read is left to
// the split, which reports it.
func (f *characterFlags) clips(sources []string) iter.Seq2[*asset.File, error] {
	return func(yield func(*asset.File, error) bool) {
		for _, source := range sources {
			if same(source, f.character) {
				continue
			}
			if file, err := asset.Open(source); err == nil && !yield(file, nil) {
				return
			}
		}
	}
}

func same(a, b string) bool {
	x, errX := os.Stat(a)
	y, errY := os.Stat(b)
	return errX == nil && errY == nil && os.SameFile(x, y)
}

// chooseForAll settles the limbs for all jobs and leaves the resolved limb file.
func (f *characterFlags) chooseForAll(dir string, jobs []library.Job, o library.Options) (library.Options, []asset.Choice, error) {
	var sources []string
	for _, job := range jobs {
		sources = append(sources, job.Source)
	}
	limbs, choices, err := f.choose(&o.Split, sources)
	if err != nil {
		return o, nil, err
	}
	data, err := os.ReadFile(f.character)
	if err != nil {
		return o, nil, err
	}
	sum := sha256.Sum256(data)
	o.Character, o.Limbs = hex.EncodeToString(sum[:]), limbs.YAML()
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return o, nil, err
	}
	name := f.resolved
	if name == "" {
		name = filepath.Join(dir, resolvedName)
	}
	return o, choices, wholefile.Write(name, o.Limbs)
}
