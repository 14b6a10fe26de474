package release

import (
	"context"
	"fmt"
	"io"
	"slices"

	"dryfit/graphviz/document"
	"dryfit/graphviz/page"
	"dryfit/graphviz/plates"
	"dryfit/graphviz/report"
	"dryfit/graphviz/words"
	"dryfit/kits"
	"dryfit/kits/geom"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/stl"
	"dryfit/kits/mesh/threemf"
	"dryfit/plan"
	"dryfit/plan/compare"
	"dryfit/plan/coupon"
	"dryfit/plan/project"
	"dryfit/plan/release"
)

// asModelled leaves a mesh where it is in the model.
var asModelled = geom.Scaling(1)

// atOrigin moves a mesh, as it lies in the model, to where a bed begins.
func atOrigin(m *mesh.Mesh) geom.Transform {
	t := asModelled
	t[3] = m.Min.Times(-1)
	return t
}

// contents lists the files of the pack.
func (k *Pack) contents() error {
	for _, add := range []func() error{k.about, k.parts, k.plates, k.bookFiles, k.lists, k.coupon, k.page, k.kit} {
		if err := add(); err != nil {
			return err
		}
	}
	return nil
}

func (k *Pack) add(name string, write func(io.Writer) error) {
	k.files = append(k.files, entry{name, write})
}

// bytes adds a file that is made when it is written.
func (k *Pack) bytes(name string, make func() ([]byte, error)) {
	k.add(name, func(w io.Writer) error {
		data, err := make()
		if err == nil {
			_, err = w.Write(data)
		}
		return err
	})
}

func (k *Pack) text(name, text string) {
	k.bytes(name, func() ([]byte, error) { return []byte(text), nil })
}

// about adds what a builder reads first.
func (k *Pack) about() error {
	k.text("README.txt", k.readme().Text(false))
	k.text("LICENCE.txt", k.p.Kit.Licence+"\n")
	changes, err := k.changes()
	k.text("CHANGES.txt", changes)
	return err
}

// changes compares with the last release.
func (k *Pack) changes() (string, error) {
	if k.o.Before == nil {
		return fmt.Sprintf("%s, revision %s\n\nThere is no earlier release to compare with.\n", kits.Plain(k.p.Kit.Name), kits.Plain(k.p.Kit.Revision)), nil
	}
	c, err := compare.Compare(k.o.Before, k.p)
	if err != nil {
		return "", err
	}
	head := fmt.Sprintf("%s: revision %s, compared with revision %s\n\n", kits.Plain(k.p.Kit.Name), kits.Plain(k.p.Kit.Revision), kits.Plain(k.o.Before.Kit.Revision))
	return head + report.Compare(k.o.Before, k.p, c, true).Document.Text(false), nil
}

// parts adds a file for each part.
func (k *Pack) parts() error {
	for _, f := range release.PartFiles(k.p) {
		if k.o.STL {
			k.add("parts/"+f.Path+".stl", func(w io.Writer) error { return writeSTL(w, f.Mesh) })
			continue
		}
		k.add("parts/"+f.Path+".3mf", func(w io.Writer) error {
			return threemf.Write(w, k.title(), []threemf.Item{{Name: f.Part.Name, Number: f.Number, Mesh: f.Mesh, Place: atOrigin(f.Mesh)}})
		})
	}
	return nil
}

// plates adds the plates of the designer's printers, as far as their pieces have a mesh.
func (k *Pack) plates() error {
	if k.plan == nil {
		return nil
	}
	for _, p := range k.plan.Plates {
		if len(plates.Left(p)) < len(p.Pieces) {
			k.bytes("plates/"+release.SafeName(p.Printer.ID)+"/"+plates.Name(p)+".3mf", func() ([]byte, error) { return plates.Package(p) })
		}
	}
	k.bytes("plates/plates.pdf", k.printing.PlateSheet().PDF)
	return nil
}

// title names the kit and its revision inside files.
func (k *Pack) title() string { return k.p.Kit.Name + ", revision " + k.p.Kit.Revision }

func writeSTL(w io.Writer, m *mesh.Mesh) error {
	list := make([]mesh.Triangle, m.Len())
	if _, err := m.Read(0, list); err != nil {
		return err
	}
	return stl.Write(w, list)
}

// bookFiles adds the booklet in every language.
func (k *Pack) bookFiles() error {
	for _, tag := range words.Languages() {
		book := k.booklets[tag].Book
		k.bytes("booklet/booklet-"+tag+".html", book.HTML)
		k.bytes("booklet/booklet-"+tag+".pdf", book.PDF)
	}
	return nil
}

// lists adds the lists, each as a table for programs and as a page to print.
func (k *Pack) lists() error {
	for _, l := range []struct {
		name string
		r    *report.Report
	}{
		{"parts", report.PartsList(k.p, true)}, {"hardware", report.PartsList(k.p, false)}, {"paint", report.PaintList(k.p, k.sums)}, {"totals", report.Totals(k.unstarted(), k.plan, k.sums)},
	} {
		k.add("lists/"+l.name+".csv", func(w io.Writer) error { return document.Write(w, "csv", l.r.Report) })
		k.add("lists/"+l.name+".pdf", func(w io.Writer) error { return document.Write(w, "pdf", l.r.Report) })
	}
	return nil
}

// coupon adds the test print from which a builder finds the clearance of his printer.
func (k *Pack) coupon() error {
	list, err := coupon.Make(k.p.Kit)
	if err == nil && list != nil {
		k.add("coupon/fit coupon.3mf", func(w io.Writer) error { return coupon.Write(w, list) })
		k.text("coupon/fit coupon.txt", report.Coupon(k.p.Kit, list, "").Text(false))
	}
	return err
}

// page adds the page as files that need no server.
func (k *Pack) page() error {
	maker := report.PageMaker(k.o.Tell, k.o.Warn)
	if k.printing != nil {
		maker.Plates = func(context.Context, *plan.Project) (*page.Plates, error) { return k.printing.Page(), nil }
	}
	files, err := page.Files(k.ctx, k.unstarted(), maker, k.o.Warn)
	if err != nil {
		return err
	}
	for _, f := range files {
		k.bytes("page/"+f.Name, func() ([]byte, error) { return f.Data, nil })
	}
	return nil
}

// KitFile and meshesName are the kit in the pack, with which dryfit works as with the
// designer's own.
const (
	KitFile    = "kit/" + kits.FileName
	meshesName = "meshes.3mf"
)

// kit adds the kit file, and all its meshes in assembled position in one file.
func (k *Pack) kit() error {
	text, err := kits.WithMeshes(k.p.Kit.File, k.o.KitText, meshesName)
	if err != nil {
		return err
	}
	k.text(KitFile, string(text))
	aside, err := k.p.Kit.Aside()
	if err != nil {
		return err
	}
	var items []threemf.Item
	for _, pc := range slices.Concat(k.p.Kit.Pieces, aside) {
		if m := k.p.Meshes.Mesh(pc.ID); m != nil {
			items = append(items, threemf.Item{Name: project.MeshName(pc), Mesh: m, Place: asModelled})
		}
	}
	k.add("kit/"+meshesName, func(w io.Writer) error { return threemf.Write(w, k.title(), items) })
	return nil
}
