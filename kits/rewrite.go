package kits

import (
	"fmt"
	"math"
	"strconv"

	"gopkg.in/yaml.v3"

	"dryfit/kits/format"
	"dryfit/kits/plain"
)

// Rewrite is the text of a kit file at another scale. It changes numbers, the
// scale and a comment about the meshes; everything else stays the same byte for
// byte. Lengths are rounded to a hundredth of a mm, or to three digits where that
// is finer. The error is [Faults], or says what cannot be rewritten.
func Rewrite(name string, data []byte, s Scaling) ([]byte, error) {
	k, err := Read(name, data)
	if err != nil {
		return nil, err
	}
	root, _ := format.Tree(name, "kit file", data) // it was just read
	e := format.NewEdits(data, root)
	k.scaling(func(at Pos, power int, _ ...*float64) {
		if at.Line == 0 || s.Factor == 1 {
			return // it follows from other numbers, or nothing changes
		}
		numbers := []*yaml.Node{e.At(at)}
		if numbers[0].Kind != yaml.ScalarNode {
			numbers = numbers[0].Content
		}
		for _, n := range numbers {
			if fault := e.Replace(n, n.Value, scaled(n.Value, k.Unit, s.Factor, power)); fault != nil {
				err = fault
			}
		}
	})
	if n := format.Value(root, "scale"); s.To != s.From {
		quote := quoteOf(n)
		if fault := e.Replace(n, quote+n.Value+quote, `"`+s.To+`"`); fault != nil {
			err = fault
		}
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %w", plain.Text(name), err)
	}
	if format.Value(root, "meshes") != nil && s.Factor != 1 {
		noteMeshes(e, root, s)
	}
	out := e.Apply()
	if _, err := Read(name, out); err != nil {
		return nil, fmt.Errorf("at %s it would no longer be a valid kit file: %w", s, err)
	}
	return out, nil
}

// scaled is a number at another scale: a length, or with power 3 a volume.
func scaled(text string, u Unit, factor float64, power int) string {
	v, _ := strconv.ParseFloat(text, 64) // read before
	v *= math.Pow(factor, float64(power))
	decimals := 2
	if power == 1 {
		decimals = map[string]int{"mm": 2, "cm": 3, "in": 4}[u.Name]
	}
	if v != 0 {
		decimals = max(decimals, 2-int(math.Floor(math.Log10(math.Abs(v)))))
	}
	return plainNumber(v, decimals)
}

func quoteOf(n *yaml.Node) string {
	switch {
	case n.Style&yaml.DoubleQuotedStyle != 0:
		return `"`
	case n.Style&yaml.SingleQuotedStyle != 0:
		return "'"
	}
	return ""
}

// noteMeshes puts a comment above the line of meshes or, in flow style, at the beginning.
// The next rescaling replaces it.
func noteMeshes(e *format.Edits, root *yaml.Node, s Scaling) {
	scale := ""
	if s.From != "" {
		scale = " of their size at " + s.From
	}
	line := 1
	if root.Style&yaml.FlowStyle == 0 {
		line = format.Value(root, "meshes").Line
	}
	e.Comment(line, "# Rescaled: ", fmt.Sprintf("export the meshes again at %s%s; those of fixed-size parts keep their size, at their new positions.", s.Percent(), scale))
}
