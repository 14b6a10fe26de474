package help

import (
	"bytes"
	"cmp"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"dryfit/graphviz/report"
	"dryfit/plan"
	"dryfit/plan/draft"
)

// shapes are the data of the commands, by the headings under which the topic json
// describes them.
var shapes = []struct {
	command string
	data    any
}{
	{"balance", report.BalanceData{}},
	{"booklet", report.Booklet{}},
	{"booklet --check", report.RulesData{}},
	{"check", report.CheckData{}},
	{"compare", report.CompareData{}},
	{"demo", report.Demo{}},
	{"lights", report.LightsData{}},
	{"magnets", report.MagnetsData{}},
	{"measure", draft.Measurement{}},
	{"next", report.NextData{}},
	{"order", report.OrderData{}},
	{"parts", report.PartsData{}},
	{"printing", report.PrintingData{}},
	{"rehearse", report.RehearseData{}},
	{"release", report.ReleaseData{}},
	{"rescale", report.RescaleData{}},
	{"time", report.TimeData{}},
	{"totals", report.TotalsData{}},
	{"tree", report.TreeData{}},
	{"why", report.WhyData{}},
}

// The topic json describes what the commands print, as the types have it. With
// UPDATE_GOLDEN set it is written anew.
func TestShapes(t *testing.T) {
	const file = "topics/json.md"
	old, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	prose, _, found := bytes.Cut(old, []byte("## finding\n"))
	if !found {
		t.Fatalf("%s: the shapes must begin with the heading of finding", file)
	}
	d := describer{t: t, packages: map[string]*source{}}
	d.out.Write(prose)
	d.section("finding", plan.Finding{})
	for _, s := range shapes {
		d.section(s.command, s.data)
	}
	text := append(bytes.TrimRight(d.out.Bytes(), "\n"), '\n')
	if os.Getenv("UPDATE_GOLDEN") != "" {
		if err := os.WriteFile(file, text, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if !bytes.Equal(old, text) {
		t.Errorf("%s is out of date: run UPDATE_GOLDEN=1 go test ./graphviz/help, and look at the difference", file)
	}
}

// describer writes a table for each shape.
type describer struct {
	t        *testing.T
	out      bytes.Buffer
	packages map[string]*source
	within   []reflect.Type // that are being described
	paths    []string       // of those
}

func (d *describer) section(title string, data any) {
	of := reflect.TypeOf(data)
	fmt.Fprintf(&d.out, "## %s\n\n%s\n\n| key | value | meaning |\n|---|---|---|\n", title, d.source(of).says(d.t, of))
	d.object("", of)
	d.out.WriteString("\n")
}

// object writes a row for each key of an object, with those of the objects in it.
func (d *describer) object(path string, of reflect.Type) {
	d.within, d.paths = append(d.within, of), append(d.paths, path)
	for i := range of.NumField() {
		f := of.Field(i)
		key, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		switch {
		case f.Anonymous && key == "":
			d.object(path, f.Type)
		case key != "" && key != "-":
			d.key(path+key, options == "omitempty", f.Type, d.source(of).comment(d.t, of, f.Name))
		}
	}
	d.within, d.paths = d.within[:len(d.within)-1], d.paths[:len(d.paths)-1]
}

func (d *describer) key(path string, optional bool, of reflect.Type, meaning string) {
	value, inner, many := d.value(path, of)
	if of.Kind() == reflect.Pointer && !optional {
		value += " or null"
	}
	name := "`" + path + "`"
	if optional {
		name += " (optional)"
	}
	fmt.Fprintf(&d.out, "| %s | %s | %s |\n", name, value, meaning)
	if inner != nil {
		d.object(path+many+".", inner)
	}
}

// value says what stands under a key. An object that is not described elsewhere is
// returned, with what is written after the key when there are many of them.
func (d *describer) value(path string, of reflect.Type) (says string, inner reflect.Type, many string) {
	if of.Kind() == reflect.Pointer {
		of = of.Elem()
	}
	if of == reflect.TypeFor[plan.Finding]() && len(d.within) > 0 {
		return "finding", nil, ""
	}
	if i := slices.Index(d.within, of); i >= 0 {
		return "object like `" + strings.TrimSuffix(d.paths[i], ".") + "`", nil, ""
	}
	switch of.Kind() {
	case reflect.Struct:
		return "object", of, ""
	case reflect.Slice:
		says, inner, many = d.value(path, of.Elem())
		return "list of " + plural(says), inner, "[]" + many
	case reflect.Array:
		says, _, _ = d.value(path, of.Elem())
		return fmt.Sprintf("list of %d %s", of.Len(), plural(says)), nil, ""
	case reflect.String:
		return cmp.Or(strings.Join(d.source(of).constants(of), ", "), "text"), nil, ""
	case reflect.Int:
		return "whole number", nil, ""
	case reflect.Float64:
		return "number", nil, ""
	case reflect.Bool:
		return "true or false", nil, ""
	}
	d.t.Fatalf("%s: no words for %v", path, of)
	return "", nil, ""
}

func plural(says string) string {
	switch {
	case says == "text":
		return "texts"
	case strings.HasPrefix(says, "list of "):
		return "lists of " + strings.TrimPrefix(says, "list of ")
	case strings.HasPrefix(says, "object like"):
		return strings.Replace(says, "object", "objects", 1)
	}
	return says + "s"
}

// source is the source text of a package, in which types have comments.
type source struct {
	types  map[string]*ast.GenDecl
	values []*ast.ValueSpec // in the sequence of the files
}

// source reads the package of a type; types of the language have none.
func (d *describer) source(of reflect.Type) *source {
	name, ours := strings.CutPrefix(of.PkgPath(), "dryfit/")
	if !ours {
		return &source{}
	}
	if d.packages[name] == nil {
		d.packages[name] = readSource(d.t, filepath.Join("..", "..", filepath.FromSlash(name)))
	}
	return d.packages[name]
}

func readSource(t *testing.T, folder string) *source {
	t.Helper()
	s := &source{types: map[string]*ast.GenDecl{}}
	files, err := fs.Glob(os.DirFS(folder), "*.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range files {
		f, err := parser.ParseFile(token.NewFileSet(), filepath.Join(folder, name), nil, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		for _, decl := range f.Decls {
			decl, is := decl.(*ast.GenDecl)
			if !is {
				continue
			}
			for _, spec := range decl.Specs {
				switch spec := spec.(type) {
				case *ast.TypeSpec:
					s.types[spec.Name.Name] = decl
				case *ast.ValueSpec:
					s.values = append(s.values, spec)
				}
			}
		}
	}
	return s
}

// says is the comment of a type, from behind its name.
func (s *source) says(t *testing.T, of reflect.Type) string {
	text := strings.Join(strings.Fields(s.types[of.Name()].Doc.Text()), " ")
	text, named := strings.CutPrefix(text, of.Name()+" is ")
	if !named {
		t.Errorf("%v: the comment must begin with its name", of)
		return ""
	}
	return strings.ToUpper(text[:1]) + text[1:]
}

// comment is what the line of a field says of it.
func (s *source) comment(t *testing.T, of reflect.Type, field string) string {
	for _, f := range s.types[of.Name()].Specs[0].(*ast.TypeSpec).Type.(*ast.StructType).Fields.List {
		for _, name := range f.Names {
			if text := strings.TrimSpace(f.Comment.Text()); name.Name == field && text != "" {
				return text
			}
		}
	}
	t.Errorf("%v.%s: say behind the field what it holds", of, field)
	return ""
}

// constants are the values of a type that are constants of its package.
func (s *source) constants(of reflect.Type) []string {
	var list []string
	for _, v := range s.values {
		typ, is := v.Type.(*ast.Ident)
		if !is || typ.Name != of.Name() {
			continue
		}
		for _, value := range v.Values {
			if lit, is := value.(*ast.BasicLit); is {
				if text, err := strconv.Unquote(lit.Value); err == nil {
					list = append(list, text)
				}
			}
		}
	}
	return list
}
