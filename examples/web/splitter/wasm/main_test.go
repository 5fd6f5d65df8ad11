//go:build js && wasm

package main

import (
	"strings"
	"syscall/js"
	"testing"

	"github.com/pronate/pronate/internal/demo"
	"github.com/stretchr/testify/require"
)

// Run it with
//
//	GOOS=js GOARCH=wasm go test -exec "$(go env GOROOT)/lib/wasm/go_js_wasm_exec" ./examples/web/splitter/wasm

// ask calls a function as JavaScript would.
func ask(f function, args ...any) js.Value {
	wrapped := js.FuncOf(f.called("pronateTest"))
	defer wrapped.Release()
	return wrapped.Invoke(args...)
}

func isError(v js.Value) bool { return v.InstanceOf(js.Global().Get("Error")) }

func bytesOf(data []byte) js.Value {
	array := js.Global().Get("Uint8Array").New(len(data))
	js.CopyBytesToJS(array, data)
	return array
}

func TestWrenThere(t *testing.T) {
	data, err := demo.Wren()
	require.NoError(t, err)
	wren := bytesOf(data)
	found := ask(function{2, detect}, "wren.glb", wren)
	require.False(t, isError(found))
	limbs := found.Get("json")
	require.Contains(t, limbs.String(), `"left thigh"`)
	wren = found.Get("glb")
	result := ask(function{3, split}, "wren.glb", wren, limbs)
	require.False(t, isError(result))
	require.Contains(t, result.Get("json").String(), `"solver"`)
	magic := make([]byte, 4)
	require.Equal(t, 4, js.CopyBytesToGo(magic, result.Get("glb")))
	require.Equal(t, "glTF", string(magic))
	require.Contains(t, ask(function{1, limbFile}, limbs).String(), "  - name: left thigh\n")
}

// Whatever happens in there, an Error of one line comes back.
func TestErrorsComeBack(t *testing.T) {
	none := bytesOf(nil)
	for want, f := range map[string]func() js.Value{
		"pronateTest: 1 arguments, expected 2":                 func() js.Value { return ask(function{2, detect}, "wren.glb") },
		"bytes: expected a Uint8Array":                         func() js.Value { return ask(function{2, detect}, "wren.glb", "bytes") },
		"name: is of type null, expected a text":               func() js.Value { return ask(function{2, detect}, nil, none) },
		"limbsJSON: is of type number, expected a text":        func() js.Value { return ask(function{1, limbFile}, 3) },
		"limbs: the JSON ends too early, expected an object":   func() js.Value { return ask(function{3, split}, "x.glb", none, "{") },
		"x.glb: is empty, expected a glTF 2.0 file":            func() js.Value { return ask(function{2, detect}, "x.glb", none) },
		`pronateTest: a fault of its own, please report it: a`: func() js.Value { return ask(function{0, func([]js.Value) (any, error) { panic("a\nb") }}) },
	} {
		got := f()
		require.True(t, isError(got), want)
		require.True(t, strings.HasPrefix(got.Get("message").String(), want), got.Get("message").String())
		require.NotContains(t, got.Get("message").String(), "\n")
	}
}
