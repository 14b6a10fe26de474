package main

import (
	"archive/zip"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"dryfit/graphviz/document"
	"dryfit/graphviz/release"
	"dryfit/graphviz/report"
	"dryfit/kits"
	"dryfit/kits/atomicfile"
	"dryfit/kits/stopping"
	"dryfit/plan"
	"dryfit/plan/project"
)

type releaseOptions struct {
	output
	out      string
	since    string
	stl      bool
	untested bool
	force    bool
}

func newRelease() *cobra.Command {
	var o releaseOptions
	cmd := &cobra.Command{
		Use:   "release KIT",
		Short: "Check that a kit is ready to go out, and write the pack for builders",
		Long: `release is the designer's last check before the files go out, and writes them all into
one zip archive: parts as 3MF, named by number, by sub-build and material; the booklet in
every language; lists as CSV and PDF; the page; the kit itself; what has changed since the
last release; licence, checksums and a README with cautions.

It refuses, with the whole list, while the kit has a fault, a mesh is ill, a part was not
test-printed well as it is now, the booklet breaks a rule that matters, or licence,
revision or contact are missing. --untested lets untested parts through; the pack says so.
dryfit help release says more.

Exit status: 0 written, 1 refused, 2 the command could not do its work.`,
		Args:              exactly(1),
		ValidArgsFunction: completeKit(nil),
		RunE:              func(_ *cobra.Command, args []string) error { return o.run(args[0]) },
	}
	o.addTo(cmd, "text", "json")
	f := cmd.Flags()
	f.StringVarP(&o.out, "out", "o", "", "the archive to write, ending in .zip")
	f.StringVar(&o.since, "since", "", "the last release, its archive or its kit, to say what has changed")
	f.BoolVar(&o.stl, "stl", false, "write parts as STL instead of 3MF")
	f.BoolVar(&o.untested, "untested", false, "let parts out that were not test-printed; the pack says so")
	f.BoolVar(&o.force, "force", false, "replace a file that dryfit has not written")
	return cmd
}

func (o *releaseOptions) run(name string) error {
	if err := o.check(); err != nil {
		return err
	}
	if strings.ToLower(filepath.Ext(o.out)) != ".zip" {
		if o.out != "" {
			return fmt.Errorf("--out %s: the archive must end in .zip", kits.Plain(o.out))
		}
		return errors.New("missing --out FILE.zip: the archive to write")
	}
	file, text, err := kits.ReadText(name)
	if err != nil {
		return o.fail(name, err)
	}
	kit, err := stopping.Soon(o.cmd.Context(), func() (*kits.Kit, error) { return kits.Read(file, text) })
	if err != nil {
		return o.fail(name, err)
	}
	progress := newProgress(os.Stderr)
	defer progress.done()
	p, err := project.Of(o.cmd.Context(), kit, progress.options(project.Options{Progress: true}))
	if err != nil {
		return o.fail(name, err)
	}
	before, done, err := o.before(progress)
	defer done()
	if err != nil {
		return o.fail(o.since, err)
	}
	made, err := release.Make(o.cmd.Context(), p, release.Options{Untested: o.untested, STL: o.stl, Before: before, KitText: text, Tell: progress.show, Warn: progress.warn})
	if err == nil && made.OK() {
		err = atomicfile.Stream(o.out, o.force, ourRelease, made.Write)
	}
	if err != nil {
		return o.fail(name, err)
	}
	progress.done()
	return o.tell(p, made)
}

// tell says what was written, or why nothing was.
func (o *releaseOptions) tell(p *plan.Project, made *release.Pack) error {
	r := report.Release(p, made.Findings, o.out, made.Files())
	if o.format == "json" {
		if err := document.WriteJSON(o.cmd.OutOrStdout(), r.Data); err != nil {
			return err
		}
	} else {
		if err := document.WriteText(o.cmd.ErrOrStderr(), report.Findings(made.Findings, false)); err != nil {
			return err
		}
		if made.OK() {
			if err := document.WriteText(o.cmd.OutOrStdout(), r.Document); err != nil {
				return err
			}
		} else if err := document.WriteText(o.cmd.ErrOrStderr(), r.Document); err != nil {
			return err
		}
	}
	if !made.OK() {
		return errFindings
	}
	return nil
}

// ourRelease reports whether a file is a release that was written earlier.
func ourRelease(name string) (bool, error) {
	z, err := zip.OpenReader(name)
	if err != nil {
		return false, nil // another kind of file
	}
	defer z.Close()
	return z.Comment == release.Comment, nil
}

// before loads the last release, from its archive or its kit; nil if none was named. done
// is to be called when it is no longer needed.
func (o *releaseOptions) before(progress *progress) (p *plan.Project, done func(), err error) {
	done = func() {}
	if o.since == "" {
		return nil, done, nil
	}
	ctx, options := o.cmd.Context(), progress.options(project.Options{})
	if strings.ToLower(filepath.Ext(o.since)) != ".zip" {
		p, err = project.Load(ctx, o.since, options)
		return p, done, err
	}
	folder, err := os.MkdirTemp("", "dryfit-")
	if err != nil {
		return nil, done, err
	}
	done = func() { os.RemoveAll(folder) }
	name, err := release.UnpackKit(ctx, o.since, folder)
	if err == nil {
		p, err = project.Load(ctx, name, options)
	}
	return p, done, release.Within(o.since, folder, err)
}
