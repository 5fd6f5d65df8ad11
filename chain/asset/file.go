package asset

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"

	"github.com/pronate/pronate/internal/printable"
	"github.com/qmuntal/gltf"
)

// File is a glTF 2.0 file, read whole and checked. It is read only and safe
// for concurrent use.
//
// What Decode checks, later code relies on: every index is in range, the nodes
// are a forest, every accessor's bytes lie inside its buffer, every node's rest
// transform is finite.
type File struct {
	Name string         // as given, for messages; quoted where it would not fit on a line
	Doc  *gltf.Document // typed view, every buffer loaded; not to be changed

	// root is the JSON as it came. Encoding Doc anew would lose what its types
	// do not know and what they take for a default (a scale of zero), so files
	// are written by patching this.
	root   map[string]json.RawMessage
	source []byte  // as it came, for a file of which nothing changes
	binary bool    // came as .glb
	extra  []chunk // chunks of a .glb beyond JSON and BIN, for carrying through
	dir    fs.FS   // where relative URIs are read; may be nil
	folder string  // absolute path of the folder that Open read it from; empty for one that came as bytes
	parent []int   // node -> parent node, -1 for roots
	size   int     // bytes read: the file and the buffers it refers to

	named      map[string][]int // nodes by name
	jointNodes map[int]bool     // nodes that are joints of a skin
	look       func() (sight, error)

	holdsWeights map[int]bool // accessors that some primitive uses as WEIGHTS_n

	decoded decoded
	settled settled
}

// decoded keeps accessors that have been read, so that the many channels and
// primitives that share one do not each hold a copy.
type decoded struct {
	sync.Mutex
	floats map[int]*reading
	joints map[int][][4]uint16
	bytes  int64
}

// Open reads a .glb or .gltf file and the buffers it refers to. Those have to
// lie in the file's folder or below it; links that lead out of it are refused.
func Open(name string) (*File, error) {
	data, err := os.ReadFile(name)
	if err != nil {
		return nil, err
	}
	// Absolute, for the program may go elsewhere before it saves. Name cannot
	// serve: it is escaped for messages.
	home, err := filepath.Abs(filepath.Dir(name))
	if err != nil {
		return nil, err
	}
	f, err := Decode(name, data, folder(home))
	if err != nil {
		return nil, err
	}
	f.folder = home
	return f, nil
}

// folder is a file system that never leaves a folder, by links either.
type folder string

func (d folder) Open(name string) (fs.File, error) {
	if !fs.ValidPath(name) {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrInvalid}
	}
	return os.OpenInRoot(string(d), filepath.FromSlash(name))
}

// Decode reads a glTF 2.0 file from its bytes, which it keeps and never
// changes. name is used in messages only: [File.Save] does not take it for a path. Buffers with relative URIs are read
// from dir; where dir is nil, a file that has some is refused.
//
// An error is one line: the name, what is wrong and where, what was expected.
// The memory taken is bounded by a multiple of the size of data and the buffers
// read from dir.
func Decode(name string, data []byte, dir fs.FS) (file *File, err error) {
	f := &File{Name: printable.Text(name), source: data, dir: dir, size: len(data)}
	// Everything below checks before it indexes; this only stands between a
	// mistake there, or in a package used there, and the caller.
	defer func() {
		if r := recover(); r != nil {
			file, err = nil, fmt.Errorf("%s: malformed in a way no check foresaw: %s", f.Name, printable.Text(fmt.Sprint(r)))
		}
	}()
	if err := f.decode(data); err != nil {
		return nil, fmt.Errorf("%s: %w", f.Name, err)
	}
	return f, nil
}

func (f *File) decode(data []byte) error {
	text, bin, err := f.container(data)
	if err != nil {
		return err
	}
	if err := f.parse(text); err != nil {
		return err
	}
	for _, check := range []func() error{
		f.checkExtensions,
		func() error { return f.loadBuffers(bin) },
		f.checkViews,
		f.checkAccessors,
		f.checkNodes,
		f.checkMeshes,
		f.checkSkins,
		f.checkSkinnedVertices,
		f.checkAnimations,
		f.checkScenes,
	} {
		if err := check(); err != nil {
			return err
		}
	}
	f.index()
	return nil
}

// index notes who is called what and who is a joint, once: a file may name a
// thousand limbs.
func (f *File) index() {
	f.look = sync.OnceValues(f.lookForLimbs)
	f.named, f.jointNodes = map[string][]int{}, map[int]bool{}
	for i, n := range f.Doc.Nodes {
		if n.Name != "" {
			f.named[n.Name] = append(f.named[n.Name], i)
		}
	}
	for _, skin := range f.Doc.Skins {
		for _, joint := range skin.Joints {
			f.jointNodes[joint] = true
		}
	}
}

// parse reads the JSON into root and Doc.
func (f *File) parse(text []byte) error {
	if err := json.Unmarshal(text, &f.root); err != nil {
		return jsonError(err)
	}
	if err := checkJSON(text); err != nil {
		return err
	}
	var required requiredProperties
	if err := json.Unmarshal(text, &required); err != nil {
		return jsonError(err)
	}
	if err := required.check(); err != nil {
		return err
	}
	f.Doc = new(gltf.Document)
	if err := json.Unmarshal(text, f.Doc); err != nil {
		return jsonError(err)
	}
	required.hideForeignPaths(f.Doc)
	return nil
}

// node finds a node by its name, or by its index written "#12". A name that
// several nodes have means the one of them that is a joint of a skin.
func (f *File) node(name string) (int, error) {
	named := f.named[name]
	if len(named) > 1 {
		joints := f.jointNodes
		var among []int
		for _, node := range named {
			if joints[node] {
				among = append(among, node)
			}
		}
		if len(among) == 1 {
			named = among
		}
	}
	switch {
	case len(named) == 1:
		return named[0], nil
	case len(named) > 1:
		const most = 8
		var list []string
		for _, node := range named[:min(len(named), most)] {
			list = append(list, "#"+strconv.Itoa(node))
		}
		if len(named) > most {
			list = append(list, "…")
		}
		return 0, fmt.Errorf("%d nodes are called %q, expected one of them by its index: %s", len(named), name, strings.Join(list, ", "))
	}
	if index, ok := strings.CutPrefix(name, "#"); ok {
		i, err := strconv.Atoi(index)
		if err == nil && i >= 0 && i < len(f.Doc.Nodes) {
			return i, nil
		}
		return 0, fmt.Errorf("there is no node %q, expected #0 to #%d", name, len(f.Doc.Nodes)-1)
	}
	if near := f.nearNames(name); len(near) > 0 {
		return 0, fmt.Errorf("there is no node %q, expected a joint's name, such as %s", name, strings.Join(near, ", "))
	}
	return 0, fmt.Errorf("there is no node %q, expected a joint's name or its index, as in \"#0\"", name)
}

// ref is how a limb file names a node: by its name where that will find it, by
// its index otherwise.
func (f *File) ref(node int) string {
	name := f.Doc.Nodes[node].Name
	if found, err := f.node(name); err == nil && found == node && name != "" {
		return name
	}
	return "#" + strconv.Itoa(node)
}
