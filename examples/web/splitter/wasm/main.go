//go:build js && wasm

// Command wasm gives package splitter to a browser's worker, as functions of the
// global object: pronateDetect, pronateSplit and pronateLimbFile. They take and
// return texts and Uint8Arrays and throw an Error of one line.
package main

import (
	"errors"
	"fmt"
	"syscall/js"

	"github.com/pronate/pronate/examples/web/splitter"
	"github.com/pronate/pronate/internal/printable"
)

func main() {
	global := js.Global()
	for name, f := range map[string]function{
		"pronateDetect":   {2, detect},
		"pronateSplit":    {3, split},
		"pronateLimbFile": {1, limbFile},
	} {
		// A Go function cannot throw by itself: throwing.js has it do so.
		global.Set(name, global.Get("pronateThrowing").Invoke(js.FuncOf(f.called(name))))
	}
	select {} // the functions stay
}

// function is one of Go's, and how many arguments it takes.
type function struct {
	arguments int
	call      func(args []js.Value) (any, error)
}

// called wraps a function: its errors, and its panics, which would end the program,
// become an Error that is returned.
func (f function) called(name string) func(js.Value, []js.Value) any {
	return func(_ js.Value, args []js.Value) (result any) {
		fail := func(err error) any { return js.Global().Get("Error").New(err.Error()) }
		defer func() {
			if p := recover(); p != nil {
				result = fail(fmt.Errorf("%s: a fault of its own, please report it: %s", name, printable.Text(fmt.Sprint(p))))
			}
		}()
		if len(args) != f.arguments {
			return fail(fmt.Errorf("%s: %d arguments, expected %d", name, len(args), f.arguments))
		}
		result, err := f.call(args)
		if err != nil {
			return fail(err)
		}
		return result
	}
}

func detect(args []js.Value) (any, error) {
	name, data, err := character(args)
	if err != nil {
		return nil, err
	}
	glb, found, err := splitter.Detect(name, data)
	if err != nil {
		return nil, err
	}
	return answer(glb, found), nil
}

// answer is a character and what to know of it.
func answer(glb []byte, said string) map[string]any {
	bytes := js.Global().Get("Uint8Array").New(len(glb))
	js.CopyBytesToJS(bytes, glb)
	return map[string]any{"glb": bytes, "json": said}
}

func split(args []js.Value) (any, error) {
	name, data, err := character(args)
	if err != nil {
		return nil, err
	}
	limbs, err := text(args[2], "limbsJSON")
	if err != nil {
		return nil, err
	}
	glb, said, err := splitter.Split(name, data, limbs)
	if err != nil {
		return nil, err
	}
	return answer(glb, said), nil
}

func limbFile(args []js.Value) (any, error) {
	limbs, err := text(args[0], "limbsJSON")
	if err != nil {
		return nil, err
	}
	return splitter.LimbFile(limbs)
}

// character reads the name and the bytes of one.
func character(args []js.Value) (name string, data []byte, err error) {
	if name, err = text(args[0], "name"); err != nil {
		return "", nil, err
	}
	if !args[1].InstanceOf(js.Global().Get("Uint8Array")) {
		return "", nil, errors.New("bytes: expected a Uint8Array")
	}
	data = make([]byte, args[1].Get("length").Int())
	js.CopyBytesToGo(data, args[1])
	return name, data, nil
}

func text(v js.Value, what string) (string, error) {
	if v.Type() != js.TypeString {
		return "", fmt.Errorf("%s: is of type %s, expected a text", what, v.Type())
	}
	return v.String(), nil
}
