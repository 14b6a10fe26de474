package chart_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"
	"time"

	"dryfit/graphviz/chart"
	"dryfit/graphviz/svg"
	"dryfit/kits/demo"
	"dryfit/plan"
	"dryfit/plan/plantest"
)

func scheduled(t *testing.T, text string, hands int, day time.Duration) *plan.Schedule {
	t.Helper()
	rep := plantest.Check(t, text)
	s, err := rep.Sequence.Schedule(hands, day)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// texts reads an SVG strictly and returns what is written in it.
func texts(t *testing.T, svg []byte) []string {
	t.Helper()
	var list []string
	in := false
	for d := xml.NewDecoder(bytes.NewReader(svg)); ; {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return list
		}
		if err != nil {
			t.Fatal(err)
		}
		switch x := token.(type) {
		case xml.StartElement:
			in = x.Name.Local == "text"
		case xml.EndElement:
			in = false
		case xml.CharData:
			if in {
				list = append(list, string(x))
			}
		}
	}
}

// Every step of the demonstration kit, and what is painted by itself, has its row and every day its name; critical steps
// have an arrowhead each, beside that of the key.
func TestChart(t *testing.T) {
	for _, day := range []time.Duration{0, 8 * time.Hour} {
		s := scheduled(t, string(demo.Kit), 2, day)
		data, err := chart.SVG(s)
		if err != nil {
			t.Fatal(err)
		}
		if !svg.Ours(data) {
			t.Error("the chart is not known as ours")
		}
		written := strings.Join(texts(t, data), "\n") + "\n"
		for _, v := range s.Order {
			label := fmt.Sprintf("\n%.20s", s.Does(v))
			if s.Painting(v) == nil {
				label = fmt.Sprintf("\n%d. %.20s", s.Number(v), s.Does(v))
			}
			if !strings.Contains(written, label) {
				t.Errorf("no row for %s", label)
			}
		}
		last, _ := s.Clock(s.Length, true)
		if !strings.Contains(written, fmt.Sprintf("\nday %d\n", last)) || strings.Contains(written, fmt.Sprintf("\nday %d\n", last+1)) {
			t.Errorf("the last day told is not day %d", last)
		}
		bold := bytes.Count(data, []byte(`font-weight="bold"`))
		critical := len(s.Chain)
		if bold < critical {
			t.Errorf("%d bold texts, %d critical steps", bold, critical)
		}
		again, err := chart.SVG(s)
		if err != nil || !bytes.Equal(again, data) {
			t.Error("another chart the second time")
		}
	}
}

func TestChartOfHostileKit(t *testing.T) {
	s := scheduled(t, `
kit: "</title><script>alert(1)</script>"
parts: {a: {name: "<b> \" & ' `+strings.Repeat("W", 1900)+`"}, b: {}}
joins: [{fit: b, to: a}]
`, 1, 0)
	data, err := chart.SVG(s)
	if err != nil {
		t.Fatal(err)
	}
	texts(t, data)
	if bytes.Contains(data, []byte("<script")) || len(data) > 20_000 {
		t.Errorf("%d bytes: %.300s", len(data), data)
	}
}

func TestChartHasNoRoom(t *testing.T) {
	var parts, joins strings.Builder
	for i := range chart.MaxSteps + 1 {
		fmt.Fprintf(&parts, "  p%d: {}\n", i)
		fmt.Fprintf(&joins, "  - {fit: p%d, to: base}\n", i)
	}
	s := scheduled(t, "kit: Large\nparts:\n  base: {}\n"+parts.String()+"joins:\n"+joins.String(), 1, 0)
	if _, err := chart.SVG(s); err == nil {
		t.Error("no error")
	}
}
