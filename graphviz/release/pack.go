// Package release sets the pack that goes out to builders: one zip archive with the files
// of the parts, the booklet, lists, the page, the kit itself, and what is said of them.
//
// The same kit gives the same bytes. Files are made one after the other and streamed into
// the archive, so that memory is bounded by the largest of them.
package release

import (
	"archive/zip"
	"context"
	"crypto/sha256"
	"fmt"
	"io"
	"path"
	"slices"
	"strings"
	"time"

	"dryfit/graphviz/booklet"
	"dryfit/graphviz/report"
	"dryfit/graphviz/words"
	"dryfit/kits"
	"dryfit/kits/progress"
	"dryfit/kits/stopping"
	"dryfit/plan"
	"dryfit/plan/printing"
	"dryfit/plan/release"
	"dryfit/plan/totals"
)

// Options of a release.
type Options struct {
	Untested bool          // parts without a good test print go out all the same; the pack says so
	STL      bool          // parts as STL instead of 3MF
	Before   *plan.Project // the last release; nil for none
	KitText  []byte        // the kit file as written
	// Tell, if not nil, is called with what is being done and how far it is, 0 to 1.
	Tell func(what string, share float64)
	// Warn, if not nil, gets warnings about the work itself.
	Warn func(text string)
}

// Pack is a release that is ready to be written, or what keeps it from that.
type Pack struct {
	Findings []plan.Finding // faults, which keep the kit from going out; cautions

	ctx      context.Context
	p        *plan.Project
	o        Options
	printing *report.Printing // nil without printers
	plan     *printing.Plan   // of that
	sums     *totals.Totals
	booklets map[string]*booklet.Made // by language
	files    []entry
}

// entry is a file of the pack.
type entry struct {
	name  string // below the folder of the pack, with slashes
	write func(io.Writer) error
}

// OK reports whether nothing keeps the kit from going out.
func (k *Pack) OK() bool { return plan.CountOf(k.Findings, plan.Fault) == 0 }

// Make holds a kit against all that a release asks for, and prepares its files. The error
// is one of reading meshes, or the context's.
func Make(ctx context.Context, p *plan.Project, o Options) (*Pack, error) {
	if o.Tell == nil {
		o.Tell = func(string, float64) {}
	}
	if o.Warn == nil {
		o.Warn = func(string) {}
	}
	k := &Pack{ctx: ctx, p: p, o: o, booklets: map[string]*booklet.Made{}}
	var err error
	if k.Findings, err = stopping.Soon(ctx, func() ([]plan.Finding, error) { return release.Gate(ctx, p, o.Untested) }); err != nil {
		return nil, err
	}
	if err := k.prints(); err != nil {
		return nil, err
	}
	if p.Sequence != nil {
		if err := k.books(); err != nil {
			return nil, err
		}
	}
	plan.SortFindings(k.Findings)
	if !k.OK() {
		return k, nil
	}
	return k, k.contents()
}

// prints plans the printing, if the kit names printers, and sums up what it all takes.
func (k *Pack) prints() (err error) {
	if len(k.p.Kit.Printers) > 0 {
		k.printing, err = report.PlanPrinting(k.ctx, k.unstarted(), printing.ForOrder, func(share float64) { k.o.Tell("planning the printing", share) })
		if err != nil {
			return err
		}
		k.plan = k.printing.Plan
	}
	k.sums, err = stopping.Soon(k.ctx, func() (*totals.Totals, error) { return totals.Make(k.unstarted(), k.plan) })
	return err
}

// unstarted is the project as it is for a builder, who has printed nothing yet, and to whom
// the designer's test prints are told.
func (k *Pack) unstarted() *plan.Project {
	p := *k.p
	if p.Progress != nil {
		p.Progress = &progress.File{Tests: p.Progress.Tests}
	}
	return &p
}

// books makes the booklet in every language, and asks whether it keeps the rules.
func (k *Pack) books() error {
	for _, tag := range words.Languages() {
		l, err := words.In(tag)
		if err != nil {
			return err
		}
		made, err := booklet.MakeKept(k.ctx, k.p, booklet.Options{Language: l, Totals: k.sums, Progress: k.o.Tell}, k.o.Warn)
		if err != nil {
			return err
		}
		k.booklets[tag] = made
		verdicts, err := stopping.Soon(k.ctx, func() ([]booklet.Verdict, error) { return made.Check(), nil })
		if err != nil {
			return err
		}
		for _, v := range verdicts {
			if v.Result == booklet.Fails && v.Level == booklet.Error {
				k.broken(v)
			}
		}
	}
	return nil
}

// broken adds the fault of a booklet that breaks a rule that matters, once for all languages.
func (k *Pack) broken(v booklet.Verdict) {
	text := "the booklet breaks a rule: " + v.Rule
	i := slices.IndexFunc(k.Findings, func(f plan.Finding) bool { return f.Text == text })
	if i < 0 {
		i = len(k.Findings)
		k.Findings = append(k.Findings, plan.NewFinding(plan.Release, plan.Fault, text).Suggest("see dryfit booklet --check"))
	}
	f := &k.Findings[i]
	for _, found := range v.Found {
		if one := (plan.Reason{Text: found}); !slices.ContainsFunc(f.Because, one.Same) {
			f.Because = append(f.Because, one)
		}
	}
}

// Folder is the one folder of the archive that everything is in.
func (k *Pack) Folder() string {
	return release.SafeName(k.p.Kit.Name + " revision " + k.p.Kit.Revision)
}

// Files is how many files the pack has.
func (k *Pack) Files() int { return len(k.files) + 1 }

// sumsName is the file that lists the checksums of all others, as sha256sum does.
const sumsName = "SHA256SUMS"

// Comment is the comment of the archive, by which a release is known.
const Comment = "Release of a kit, written by dryfit"

// Write writes the archive. It may be called again.
func (k *Pack) Write(w io.Writer) error {
	z := zip.NewWriter(w)
	if err := z.SetComment(Comment); err != nil {
		return err
	}
	var sums strings.Builder
	for i, f := range k.files {
		if err := k.ctx.Err(); err != nil {
			return err
		}
		k.o.Tell("writing the release", float64(i)/float64(len(k.files)))
		hash := sha256.New()
		if err := k.put(z, f.name, func(w io.Writer) error { return f.write(io.MultiWriter(w, hash)) }); err != nil {
			return err
		}
		fmt.Fprintf(&sums, "%x  %s\n", hash.Sum(nil), f.name)
	}
	if err := k.put(z, sumsName, func(w io.Writer) error {
		_, err := io.WriteString(w, sums.String())
		return err
	}); err != nil {
		return err
	}
	return z.Close()
}

// earliest is the date of every file: the earliest that zip archives know, so that the bytes
// follow from the content.
var earliest = time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)

// packed are the endings of files that are compressed by themselves.
var packed = []string{".3mf", ".pdf"}

func (k *Pack) put(z *zip.Writer, name string, write func(io.Writer) error) error {
	h := &zip.FileHeader{Name: k.Folder() + "/" + name, Method: zip.Deflate, Modified: earliest}
	if slices.Contains(packed, path.Ext(name)) {
		h.Method = zip.Store
	}
	w, err := z.CreateHeader(h)
	if err != nil {
		return err
	}
	if err := write(w); err != nil {
		return fmt.Errorf("%s: %w", kits.Plain(name), err)
	}
	return nil
}
