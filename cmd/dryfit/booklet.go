package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"dryfit/graphviz/booklet"
	"dryfit/graphviz/document"
	"dryfit/graphviz/draw"
	"dryfit/graphviz/words"
	"dryfit/kits"
	"dryfit/plan"
	"dryfit/plan/project"
)

type bookletOptions struct {
	out      []string
	language string
	force    bool
	check    bool
	json     bool
}

func newBooklet() *cobra.Command {
	var o bookletOptions
	cmd := &cobra.Command{
		Use:   "booklet KIT",
		Short: "Write the illustrated building instructions",
		Long: `booklet writes the building instructions of a kit from its proven order: safety,
parts and hardware with pictures, paint, the steps, each with a picture in which the
new pieces travel the way that is proven free, last calls to tick off, wires, service.

It writes booklet.html, one file that needs nothing else, and booklet.pdf beside the
kit file, or the files named with --out. Pictures are made from the meshes of the kit
and kept beside them in a file ending in .pictures, which can be deleted at any time.
A kit without meshes gets a booklet without pictures.

--check writes nothing; it holds the booklet against the rules of good instructions
and lists which hold, which do not, and which a person must judge.

` + exitHelp,
		Args:              exactly(1),
		ValidArgsFunction: completeKit(nil),
		RunE: func(cmd *cobra.Command, args []string) error {
			return runBooklet(cmd.Context(), cmd.OutOrStdout(), args[0], o)
		},
	}
	f := cmd.Flags()
	f.StringArrayVarP(&o.out, "out", "o", nil, "file to write, ending in .html or .pdf; may be given twice")
	f.StringVar(&o.language, "language", "en", "language of the fixed words: "+strings.Join(words.Languages(), ", "))
	f.BoolVar(&o.force, "force", false, "replace a file that dryfit has not written")
	f.BoolVar(&o.check, "check", false, "hold the booklet against the rules of good instructions")
	f.BoolVar(&o.json, "json", false, "print JSON")
	completeFlag(cmd, "language", words.Languages())
	return cmd
}

// bookletForms are the forms of a booklet by the ending of the file.
var bookletForms = map[string]struct {
	set  func(*document.Document) ([]byte, error)
	ours func([]byte) bool
}{
	".html": {(*document.Document).HTML, document.OursHTML},
	".pdf":  {(*document.Document).PDF, document.OursPDF},
}

func runBooklet(ctx context.Context, w io.Writer, path string, o bookletOptions) error {
	language, err := words.In(o.language)
	if err != nil {
		return err
	}
	for _, name := range o.out {
		if _, known := bookletForms[strings.ToLower(filepath.Ext(name))]; !known {
			return fmt.Errorf("%s: a booklet ends in .html or .pdf", kits.Plain(name))
		}
	}
	rep, err := load(ctx, path, project.Options{})
	if err != nil {
		if o.json {
			return failJSON(w, path, err)
		}
		return err
	}
	if rep.Sequence == nil {
		return noOrder(w, rep, o.json)
	}
	made, err := makeBooklet(ctx, rep, language)
	if err != nil {
		return err
	}
	if o.check {
		return printRules(w, rep, made, o.json)
	}
	return writeBooklet(w, rep, made, o)
}

// noOrder reports why a kit has no proven order.
func noOrder(w io.Writer, rep *plan.Project, asJSON bool) error {
	var err error
	if asJSON {
		err = writeJSON(w, findingsJSON{rep.Kit.Name, false, complete(rep.Findings)})
	} else {
		err = checkText(os.Stderr, rep)
	}
	if err == nil {
		err = errFindings
	}
	return err
}

// makeBooklet words the booklet, with the pictures that were kept from before, and
// keeps them for the next time.
func makeBooklet(ctx context.Context, rep *plan.Project, l words.Language) (*booklet.Made, error) {
	p := newProgress(os.Stderr)
	defer p.done()
	o := booklet.Options{Language: l, Progress: p.show}
	if rep.Meshes == nil {
		return booklet.Make(ctx, rep, o)
	}
	file := filepath.Join(filepath.Dir(rep.Kit.File), rep.Kit.Meshes) + ".pictures"
	o.Cache = openAlbum(file, p)
	made, err := booklet.Make(ctx, rep, o)
	if err != nil {
		return nil, err
	}
	if made.Cache.Changed() {
		if err := keepAlbum(file, made.Cache); err != nil {
			p.warn("the pictures are not kept: " + kits.Plain(err.Error()))
		}
	}
	return made, nil
}

// maxAlbumFile bounds the album that is read, in bytes.
const maxAlbumFile = 256 << 20

func openAlbum(file string, p *progress) *draw.Cache {
	info, err := os.Stat(file)
	if errors.Is(err, fs.ErrNotExist) {
		return draw.NewCache()
	}
	var data []byte
	if err == nil && info.Size() > maxAlbumFile {
		err = fmt.Errorf("too large")
	}
	if err == nil {
		data, err = os.ReadFile(file)
	}
	var a *draw.Cache
	if err == nil {
		a, err = draw.ReadCache(data)
	}
	if err != nil {
		p.warn(fmt.Sprintf("%s is not used, the pictures are made anew: %v", kits.Plain(file), err))
		return draw.NewCache()
	}
	return a
}

func keepAlbum(file string, a *draw.Cache) error {
	data, err := a.Bytes()
	if err != nil {
		return err
	}
	return writeFile(file, data, false, draw.OursCache)
}

func writeBooklet(w io.Writer, rep *plan.Project, made *booklet.Made, o bookletOptions) error {
	files := o.out
	if len(files) == 0 {
		folder := filepath.Dir(rep.Kit.File)
		files = []string{filepath.Join(folder, "booklet.html"), filepath.Join(folder, "booklet.pdf")}
	}
	for _, name := range files {
		form := bookletForms[strings.ToLower(filepath.Ext(name))]
		data, err := form.set(made.Book)
		if err != nil {
			return err
		}
		if err := writeFile(name, data, o.force, form.ours); err != nil {
			return err
		}
	}
	if bad := made.Book.Unprintable(); len(bad) > 0 && slices.ContainsFunc(files, isPDF) {
		fmt.Fprintf(os.Stderr, "dryfit: the PDF's font has no sign for %s; a box stands in its place\n", kits.Plain(string(bad)))
	}
	if o.json {
		return writeJSON(w, bookletJSON{rep.Kit.Name, files, len(rep.Sequence.Order), len(made.Pictures)})
	}
	_, err := fmt.Fprintf(w, "wrote %s: %s, %s\n", kits.Plain(strings.Join(files, " and ")), many(len(rep.Sequence.Order), "step"), many(len(made.Pictures), "step picture"))
	return err
}

func isPDF(name string) bool { return strings.EqualFold(filepath.Ext(name), ".pdf") }

// bookletJSON is what booklet prints with --json.
type bookletJSON struct {
	Kit      string   `json:"kit"`
	Files    []string `json:"files"`
	Steps    int      `json:"steps"`
	Pictures int      `json:"pictures"`
}
