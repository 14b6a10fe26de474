package report_test

import (
	"reflect"
	"strings"
	"testing"

	"dryfit/graphviz/document"
	"dryfit/graphviz/document/documenttest"
	"dryfit/graphviz/report"
	"dryfit/kits"
	"dryfit/kits/progress"
	"dryfit/plan"
	"dryfit/plan/compare"
	"dryfit/plan/explain"
	"dryfit/plan/lights"
	"dryfit/plan/printing"
	"dryfit/plan/project/projecttest"
)

// reports are all reports of the demonstration kit but those that take long.
func reports(t *testing.T) map[string]*report.Report {
	t.Helper()
	p := projecttest.Load(t)
	var err error
	if p.Progress, err = progress.Read("kit.progress.yaml", nil); err != nil {
		t.Fatal(err)
	}
	why, err := explain.Ask(p, "stretcher")
	if err != nil {
		t.Fatal(err)
	}
	schedule, err := p.Sequence.Schedule(2, plan.WorkingDay)
	if err != nil {
		t.Fatal(err)
	}
	printing, err := report.PlanPrinting(t.Context(), p, printing.ForOrder, nil)
	if err != nil {
		t.Fatal(err)
	}
	todo, err := report.Next(t.Context(), p, true)
	if err != nil {
		t.Fatal(err)
	}
	same, err := compare.Compare(p, p)
	if err != nil {
		t.Fatal(err)
	}
	return map[string]*report.Report{
		"check": report.Check(p), "order": report.Order(p), "why": report.Why(p, why), "time": report.Time(p, schedule),
		"parts": report.Parts(p), "printing": printing.Report(true), "balance": report.Balance(p), "lights": report.Lights(p, lights.E12),
		"magnets": report.Magnets(p), "next": todo, "compare": report.Compare(p, p, same, true),
		"tree": {Report: document.Report{Data: report.Tree(p)}},
	}
}

// Every report can be set in every format: the page keeps the rules of pages, each row of
// a sheet is as long as its heads, and no list of the data is null.
func TestReportsInEveryFormat(t *testing.T) {
	for name, r := range reports(t) {
		t.Run(name, func(t *testing.T) {
			for _, row := range r.Sheet {
				if len(row) != len(r.Sheet[0]) {
					t.Errorf("a row of %d cells below %d heads: %q", len(row), len(r.Sheet[0]), row)
				}
			}
			noNull(t, reflect.TypeOf(r.Data), reflect.ValueOf(r.Data), name)
			if r.Document == nil {
				return
			}
			page, err := r.Document.HTML()
			if err != nil {
				t.Fatal(err)
			}
			if _, faults := documenttest.CheckPage(page); len(faults) > 0 {
				t.Error(strings.Join(faults, "\n"))
			}
			if _, err := r.Document.PDF(); err != nil {
				t.Error(err)
			}
			if text := r.Document.Markdown(); !strings.HasPrefix(text, "# Skerrivane R.2\n") {
				t.Errorf("the Markdown starts with %.40q", text)
			}
		})
	}
}

// noNull finds lists of the data that are null.
func noNull(t *testing.T, of reflect.Type, v reflect.Value, path string) {
	t.Helper()
	switch of.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			noNull(t, of.Elem(), v.Elem(), path)
		}
	case reflect.Slice:
		if v.IsNil() && !strings.HasSuffix(path, "?") {
			t.Errorf("%s is null", path)
		}
		for i := range v.Len() {
			noNull(t, of.Elem(), v.Index(i), path+"[]")
		}
	case reflect.Struct:
		for i := range of.NumField() {
			f := of.Field(i)
			name := path + "." + f.Name
			if f.Tag.Get("json") == "-" {
				continue
			}
			if strings.Contains(f.Tag.Get("json"), "omitempty") {
				name += "?"
			}
			if f.IsExported() {
				noNull(t, f.Type, v.Field(i), name)
			}
		}
	}
}

// A kit without a proven order: the data say so, and there is nothing to set.
func TestWithoutOrder(t *testing.T) {
	k, err := kits.Read("kit.yaml", []byte("kit: Ring\nparts: {a: {}, b: {}, c: {}}\njoins:\n  - {fit: b, to: a, after: [c]}\n  - {fit: c, to: a, after: [b]}\n"))
	if err != nil {
		t.Fatal(err)
	}
	p, err := explain.Check(k)
	if err != nil {
		t.Fatal(err)
	}
	if p.Count(plan.Fault) == 0 {
		t.Fatal("the kit has no fault")
	}
	for name, r := range map[string]*report.Report{"order": report.Order(p), "others": report.NoOrder(p)} {
		if r.Document != nil || r.OK {
			t.Errorf("%s: document %v, OK %v", name, r.Document, r.OK)
		}
		noNull(t, reflect.TypeOf(r.Data), reflect.ValueOf(r.Data), name)
	}
	if text := report.Check(p).Document.Text(false); !strings.Contains(text, "Ring: 3 pieces in 2 steps. 1 fault to fix.") {
		t.Errorf("check says %s", text)
	}
}
