package asset

import (
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"strings"

	"github.com/pronate/pronate/internal/printable"
)

// jsonError words an error of encoding/json in one line.
func jsonError(err error) error {
	var syntax *json.SyntaxError
	var mismatch *json.UnmarshalTypeError
	switch {
	case errors.As(err, &syntax):
		return fmt.Errorf("JSON: byte %d: %s", syntax.Offset, printable.Text(syntax.Error()))
	case errors.As(err, &mismatch):
		return fmt.Errorf("JSON: %s is %s, expected %s", fieldName(mismatch.Field), shorten(withArticle(printable.Text(mismatch.Value))), kindName(mismatch.Type))
	}
	return fmt.Errorf("JSON: %s", shorten(printable.Text(err.Error())))
}

// fieldName writes the path of a field as glTF does: structs without tags give
// it in capitals.
func fieldName(path string) string {
	if path == "" {
		return "the root"
	}
	parts := strings.Split(path, ".")
	for i, part := range parts {
		if part != "" {
			parts[i] = strings.ToLower(part[:1]) + part[1:]
		}
	}
	return printable.Text(strings.Join(parts, "."))
}

func withArticle(value string) string {
	if strings.HasPrefix(value, "object") || strings.HasPrefix(value, "array") {
		return "an " + value
	}
	return "a " + value
}

// shorten keeps a message from the file's own text readable.
func shorten(text string) string {
	const most = 120
	if len(text) <= most {
		return text
	}
	return strings.ToValidUTF8(text[:most], "") + "…"
}

// kindName is what JSON calls a value of a Go type.
func kindName(t reflect.Type) string {
	switch t.Kind() {
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		return "a whole number"
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		return "a small whole number"
	case reflect.Float32, reflect.Float64:
		return "a number"
	case reflect.String:
		return "a string"
	case reflect.Bool:
		return "true or false"
	case reflect.Slice, reflect.Array:
		return "an array"
	}
	return "an object"
}
