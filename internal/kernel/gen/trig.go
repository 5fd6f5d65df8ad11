package main

import (
	"fmt"
	"go/ast"
	"go/constant"
	"go/parser"
	"go/token"
)

// The polynomials are not written a second time: loops of the kernel's trig32.go
// and trig64.go are read and translated, coefficients, order and all. They are
// made of constants, sums, products, conversions that only forbid fusing, and
// clamps `if x < c { x = c }`.

// loop translates the body of the one loop of a function of the kernel. in names
// what the loop takes; the variables at its end are returned.
func (l lanes) loop(function string, in map[string]vector) map[string]vector {
	file, err := parser.ParseFile(token.NewFileSet(), fmt.Sprintf("../trig%d.go", l.bits), nil, 0)
	if err != nil {
		panic(err)
	}
	t := translation{l, in}
	for _, d := range file.Decls {
		if f, ok := d.(*ast.FuncDecl); ok && f.Name.Name == function {
			last := f.Body.List[len(f.Body.List)-1].(*ast.RangeStmt)
			for _, s := range last.Body.List {
				t.statement(s)
			}
			return t.variables
		}
	}
	panic(function + " is not in the kernel")
}

type translation struct {
	lanes
	variables map[string]vector
}

func (t translation) statement(s ast.Stmt) {
	switch s := s.(type) {
	case *ast.AssignStmt:
		if _, isElement := s.Lhs[0].(*ast.IndexExpr); isElement {
			return // the slices' elements are the caller's to store
		}
		values := make([]vector, len(s.Rhs))
		for i := range s.Rhs {
			values[i] = t.register(s.Rhs[i])
		}
		for i := range s.Lhs {
			t.variables[s.Lhs[i].(*ast.Ident).Name] = values[i]
		}
	case *ast.IfStmt:
		condition := s.Cond.(*ast.BinaryExpr)
		name := condition.X.(*ast.Ident).Name
		limit := t.number(value(condition.Y))
		if condition.Op == token.GTR {
			t.variables[name] = t.least(t.variables[name], limit)
		} else {
			t.variables[name] = t.most(t.variables[name], limit)
		}
	default:
		panic(fmt.Sprintf("no translation of %T", s))
	}
}

func (t translation) register(e ast.Expr) vector {
	if v := value(e); v != nil {
		return t.load(t.number(v))
	}
	switch e := e.(type) {
	case *ast.Ident:
		return t.variables[e.Name]
	case *ast.ParenExpr:
		return t.register(e.X)
	case *ast.CallExpr: // float32(product)
		return t.register(e.Args[0])
	case *ast.BinaryExpr:
		return t.binary(e)
	}
	panic(fmt.Sprintf("no translation of %T", e))
}

func (t translation) binary(e *ast.BinaryExpr) vector {
	x, y := e.X, e.Y
	if value(x) != nil && e.Op != token.SUB { // a constant can be the second operand
		x, y = y, x
	}
	if v := value(y); v != nil {
		return t.operation(e.Op)(t.register(x), t.number(v))
	}
	return t.operation(e.Op)(t.register(x), t.register(y))
}

func (t translation) operation(o token.Token) func(x vector, y any) vector {
	switch o {
	case token.ADD:
		return t.add
	case token.SUB:
		return t.sub
	case token.MUL:
		return t.mul
	}
	panic("no translation of " + o.String())
}

// value is that of a constant expression, and nil for others.
func value(e ast.Expr) constant.Value {
	switch e := e.(type) {
	case *ast.BasicLit:
		return constant.MakeFromLiteral(e.Value, e.Kind, 0)
	case *ast.SelectorExpr:
		if e.Sel.Name == "Pi" {
			return pi
		}
	case *ast.UnaryExpr:
		if v := value(e.X); v != nil {
			return constant.UnaryOp(e.Op, v, 0)
		}
	case *ast.BinaryExpr:
		if x, y := value(e.X), value(e.Y); x != nil && y != nil {
			return constant.BinaryOp(x, e.Op, y)
		}
	}
	return nil
}

// sincos is the function of that name, its cosine not below 0.
func (l lanes) sincos(x vector) (sin, cos vector) {
	out := l.loop(l.name("sincos"), map[string]vector{"x": x})
	return out["s"], out["c"]
}

// atan is the function of that name.
func (l lanes) atan(x vector) vector {
	in := map[string]vector{"r": x}
	if l.bits == 64 {
		in = map[string]vector{"t": x}
	}
	return l.loop(l.name("atan"), in)["half"]
}
