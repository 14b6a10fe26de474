package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"dryfit/graphviz/booklet"
	"dryfit/graphviz/document"
	"dryfit/graphviz/report"
	"dryfit/graphviz/words"
	"dryfit/kits"
	"dryfit/kits/atomicfile"
	"dryfit/kits/english"
	"dryfit/kits/stopping"
	"dryfit/plan"
	"dryfit/plan/project"
	"dryfit/plan/totals"
)

type bookletOptions struct {
	output
	out      []string
	language string
	force    bool
	rules    bool
}

func newBooklet() *cobra.Command {
	var o bookletOptions
	cmd := ofKit(&cobra.Command{
		Use:   "booklet KIT",
		Short: "Write the illustrated building instructions",
		Long: `booklet writes the illustrated building instructions, in the proven order. They have
safety, parts and hardware with pictures, paint, the steps, last calls to tick off, wires
and service. In the picture of a step the new pieces travel the way that is proven free.

It writes booklet.html, one file that needs nothing else, and booklet.pdf beside the
kit file, or the files named with --out. Pictures are made from the meshes of the kit
and kept in your own cache folder, in dryfit, which can be deleted at any time.
A kit without meshes gets a booklet without pictures.

--check writes nothing. It checks the booklet against the rules of good instructions
and lists which hold, which fail, and which a person must judge.`,
	}, o.run)
	o.addTo(cmd, document.Formats(false)...)
	f := cmd.Flags()
	f.Lookup("format").Usage = "with --check, " + f.Lookup("format").Usage
	f.Lookup("json").Usage = "print JSON"
	f.StringArrayVarP(&o.out, "out", "o", nil, "file to write, ending in .html or .pdf; may be given twice")
	f.StringVar(&o.language, "language", "en", "language of the fixed words: "+strings.Join(words.Languages(), ", "))
	f.BoolVar(&o.force, "force", false, "replace a file that dryfit has not written")
	f.BoolVar(&o.rules, "check", false, "check the booklet against the rules of good instructions")
	completeFlag(cmd, "language", words.Languages())
	return cmd
}

// bookletForms are the forms of a booklet by the extension of the file.
var bookletForms = map[string]struct {
	set  func(*document.Document) ([]byte, error)
	ours func([]byte) bool
}{
	".html": {(*document.Document).HTML, document.OursHTML},
	".pdf":  {(*document.Document).PDF, document.OursPDF},
}

func (o *bookletOptions) run(path string) error {
	if err := o.check(); err != nil {
		return err
	}
	language, err := words.In(o.language)
	if err != nil {
		return err
	}
	for _, name := range o.out {
		if _, known := bookletForms[extension(name)]; !known {
			return fmt.Errorf("%s: a booklet ends in .html or .pdf", kits.Plain(name))
		}
	}
	p, err := o.load(path, project.Options{Progress: true})
	if err != nil {
		return err
	}
	if p.Sequence == nil {
		return o.print(path, p, report.NoOrder(p))
	}
	made, err := makeBooklet(o.cmd.Context(), p, language)
	if err != nil {
		return err
	}
	if o.rules {
		verdicts, err := stopping.Soon(o.cmd.Context(), func() ([]booklet.Verdict, error) { return made.Check(), nil })
		if err != nil {
			return err
		}
		return o.print(path, p, report.Rules(p, verdicts))
	}
	if err := o.write(p, made); err != nil {
		return err
	}
	return verdict(o.cmd.ErrOrStderr(), path, p, true)
}

func makeBooklet(ctx context.Context, p *plan.Project, l words.Language) (*booklet.Made, error) {
	whole := *p
	whole.Progress = nil // what the kit takes in all, whatever is printed already
	printed, err := planIfPrinters(ctx, &whole)
	if err != nil {
		return nil, err
	}
	sums, err := totals.Make(&whole, printed)
	if err != nil {
		return nil, err
	}
	progress := newProgress(os.Stderr)
	defer progress.done()
	return booklet.MakeKept(ctx, p, booklet.Options{Language: l, Totals: sums, Progress: progress.show}, progress.warn)
}

// write writes the files of the booklet, and says which.
func (o *bookletOptions) write(p *plan.Project, made *booklet.Made) error {
	files := o.out
	if len(files) == 0 {
		folder := filepath.Dir(p.Kit.File)
		files = []string{filepath.Join(folder, "booklet.html"), filepath.Join(folder, "booklet.pdf")}
	}
	for _, name := range files {
		form := bookletForms[extension(name)]
		data, err := stopping.Soon(o.cmd.Context(), func() ([]byte, error) { return form.set(made.Book) })
		if err != nil {
			return err
		}
		if err := atomicfile.Write(name, data, o.force, form.ours); err != nil {
			return err
		}
	}
	if bad := made.Book.Unprintable(); len(bad) > 0 && slices.ContainsFunc(files, isPDF) {
		fmt.Fprintf(o.cmd.ErrOrStderr(), "dryfit: the font of the PDF has no glyph for %s; it shows a box instead\n", kits.Plain(string(bad)))
	}
	if o.format == "json" {
		return document.WriteJSON(o.cmd.OutOrStdout(), report.Booklet{Kit: p.Kit.Name, OK: p.OK(), Files: files, Steps: len(p.Sequence.Order), Pictures: len(made.Pictures)})
	}
	_, err := fmt.Fprintf(o.cmd.OutOrStdout(), "wrote %s: %s, %s\n", kits.Plain(strings.Join(files, " and ")),
		english.Count(len(p.Sequence.Order), "step"), english.Count(len(made.Pictures), "step picture"))
	return err
}

func extension(name string) string { return strings.ToLower(filepath.Ext(name)) }

func isPDF(name string) bool { return extension(name) == ".pdf" }
