package asset

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/token"
	"github.com/pronate/pronate/internal/printable"
)

// syntax words an error of the YAML parser.
func (r limbReader) syntax(err error) error {
	var located yaml.Error
	if errors.As(err, &located) {
		line, column := 1, 1
		if t := located.GetToken(); t != nil && t.Position != nil {
			line, column = t.Position.Line, t.Position.Column
		}
		return fmt.Errorf("%s:%d:%d: %s", r.name, line, column, shorten(printable.Text(located.GetMessage())))
	}
	return fmt.Errorf("%s: %s", r.name, shorten(printable.Text(err.Error())))
}

// at is an error at a node's place.
func (r limbReader) at(n ast.Node, format string, args ...any) error {
	line, column := place(n)
	return fmt.Errorf("%s:%d:%d: %s%s", r.name, line, column, r.within, fmt.Sprintf(format, args...))
}

// position is where a node begins, as "3:12".
func position(n ast.Node) string {
	line, column := place(n)
	return fmt.Sprintf("%d:%d", line, column)
}

// place is where a node begins. A mapping's own token is a colon.
func place(n ast.Node) (line, column int) {
	switch m := n.(type) {
	case *ast.MappingNode:
		if !m.IsFlowStyle && len(m.Values) > 0 {
			return place(m.Values[0].Key)
		}
	case *ast.MappingValueNode:
		return place(m.Key)
	}
	if n == nil || n.GetToken() == nil || n.GetToken().Position == nil {
		return 1, 1
	}
	p := n.GetToken().Position
	return p.Line, p.Column
}

func (r limbReader) text(key string, n ast.Node) (string, error) {
	return r.textOr(key, n, "a text")
}

func (r limbReader) textOr(key string, n ast.Node, expected string) (string, error) {
	s, ok := text(n)
	switch {
	case ok && s == "":
		return "", r.at(n, "%s is empty, expected %s", key, expected)
	case ok:
		return s, nil
	}
	switch n.(type) {
	case *ast.IntegerNode, *ast.FloatNode, *ast.StringNode, *ast.BoolNode, *ast.InfinityNode, *ast.NanNode:
		return "", r.at(n, "%s is %s, which YAML takes for %s, expected %s: put it in quotes", key, shown(n), kindOf(n), expected)
	}
	return "", r.at(n, "%s is %s, expected %s", key, describe(n), expected)
}

func (r limbReader) numbers(key string, list *ast.SequenceNode) ([]float64, error) {
	out := make([]float64, len(list.Values))
	for i, item := range list.Values {
		x, ok := number(item)
		if !ok {
			return nil, r.at(item, "%s[%d] is %s, expected a finite number", key, i, shown(item))
		}
		out[i] = x
	}
	return out, nil
}

func (r limbReader) three(key string, list *ast.SequenceNode) (*[3]float64, error) {
	out, err := r.numbers(key, list)
	if err != nil {
		return nil, err
	}
	if len(out) != 3 {
		return nil, r.at(list, "%s has %d numbers, expected 3", key, len(out))
	}
	return (*[3]float64)(out), nil
}

func text(n ast.Node) (string, bool) {
	switch s := n.(type) {
	case *ast.StringNode:
		return s.Value, !isBareNumber(s)
	case *ast.LiteralNode:
		return s.Value.Value, true
	}
	return "", false
}

// number reads a finite number.
func number(n ast.Node) (float64, bool) {
	switch v := n.(type) {
	case *ast.IntegerNode:
		switch i := v.Value.(type) {
		case int64:
			return float64(i), true
		case uint64:
			return float64(i), true
		}
	case *ast.FloatNode:
		return v.Value, v.Value*0 == 0
	case *ast.StringNode:
		if isBareNumber(v) {
			x, err := strconv.ParseFloat(v.Value, 64)
			return x, err == nil
		}
	}
	return 0, false
}

// A number of YAML 1.2, section 10.3.2. The parser takes one that has an
// exponent but no point for a text.
var bareNumber = regexp.MustCompile(`^[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?$`)

func isBareNumber(s *ast.StringNode) bool {
	return s.Token.Type == token.StringType && bareNumber.MatchString(s.Value)
}

// shown is a scalar as it was written.
func shown(n ast.Node) string {
	if n == nil || n.GetToken() == nil {
		return "nothing"
	}
	switch n.(type) {
	case *ast.SequenceNode, *ast.MappingNode, *ast.MappingValueNode, *ast.NullNode:
		return describe(n)
	case *ast.StringNode, *ast.LiteralNode:
		if s, ok := text(n); ok {
			return shorten(fmt.Sprintf("%q", s))
		}
	}
	return shorten(printable.Text(n.GetToken().Value))
}

// describe says what kind of thing a node is.
func describe(n ast.Node) string {
	switch v := n.(type) {
	case nil, *ast.NullNode:
		return "nothing"
	case *ast.SequenceNode:
		if len(v.Values) == 0 {
			return "an empty list"
		}
		return "a list"
	case *ast.MappingNode, *ast.MappingValueNode:
		return "a mapping"
	case *ast.StringNode, *ast.LiteralNode:
		if s, ok := text(n); ok {
			return "the text " + shorten(fmt.Sprintf("%q", s))
		}
	}
	return kindOf(n)
}

func kindOf(n ast.Node) string {
	switch n.(type) {
	case *ast.IntegerNode, *ast.FloatNode, *ast.StringNode, *ast.InfinityNode, *ast.NanNode:
		return "a number"
	case *ast.BoolNode:
		return "true or false"
	case *ast.AnchorNode, *ast.AliasNode, *ast.TagNode, *ast.MergeKeyNode:
		return "a YAML " + strings.ToLower(n.Type().YAMLName())
	}
	return "something else"
}
