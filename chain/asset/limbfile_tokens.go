package asset

import (
	"fmt"

	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/token"
)

// firstTokens is how many bytes are looked at first.
const firstTokens = 1 << 10

// tokens takes a text apart and refuses one that is nested too deep. It looks at
// the beginning alone first, and then at four times as much each time: so what is
// refused costs in proportion to where it is at fault, not to its length, and what
// is not a third more. A text that is cut off has no tokens that the whole one
// has not, but for the last.
func (r limbReader) tokens(text, kind string) (token.Tokens, error) {
	for n := firstTokens; n < len(text); n *= 4 {
		if err := r.bounded(lexer.Tokenize(text[:n]), kind); err != nil {
			return nil, err
		}
	}
	tokens := lexer.Tokenize(text)
	return tokens, r.bounded(tokens, kind)
}

// bounded refuses what would cost the parser more than a limb file can be
// worth: it takes stack for each level of nesting.
func (r limbReader) bounded(tokens token.Tokens, kind string) error {
	open, run := 0, 0 // brackets open; tokens in a row that each begin a level
	named := false    // whether this token is the name of an anchor, which ends no run
	for _, t := range tokens {
		if named {
			named = false
			continue
		}
		named = t.Type == token.AnchorType
		switch t.Type {
		case token.SequenceStartType, token.MappingStartType:
			open++
			run++
		case token.SequenceEndType, token.MappingEndType:
			open--
			run = 0
		case token.SequenceEntryType, token.MappingKeyType, token.MappingValueType, token.AnchorType, token.TagType:
			run++
		default:
			run = 0
		}
		if max(open, run) > maxLimbNesting {
			return fmt.Errorf("%s:%d:%d: is nested more than %d deep, expected %s", r.name, t.Position.Line, t.Position.Column, maxLimbNesting, kind)
		}
	}
	return nil
}
