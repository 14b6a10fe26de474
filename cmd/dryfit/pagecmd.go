package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"os"
	"path/filepath"
	"strconv"

	"github.com/spf13/cobra"

	"dryfit/graphviz/page"
	"dryfit/graphviz/report"
	"dryfit/kits"
	"dryfit/kits/atomicfile"
	"dryfit/kits/mesh"
	record "dryfit/kits/progress"
	"dryfit/plan"
	"dryfit/plan/project"
)

type pageOptions struct {
	port  int
	out   string
	force bool
}

func newPage() *cobra.Command {
	var o pageOptions
	cmd := &cobra.Command{
		Use:   "page KIT",
		Short: "Show the model in the browser: turn it, walk the build, see what is trapped",
		Long: `page serves one page on this machine only, and prints its address: the model in 3D as
it stands at any step, what is trapped and by what, last calls, tree, parts. Whenever the
kit file or a mesh is saved it checks again and the page follows. End it with Ctrl-C.

With --out it writes the page as static files instead, which work from any web host and
from disk.

` + exitHelp,
		Args:              exactly(1),
		ValidArgsFunction: completeKit(nil),
		RunE: func(cmd *cobra.Command, args []string) error {
			if o.out != "" {
				return exportPage(cmd, args[0], o)
			}
			return servePage(cmd.Context(), cmd.OutOrStdout(), args[0], o.port)
		},
	}
	f := cmd.Flags()
	f.IntVar(&o.port, "port", 0, "port to serve on; 0 takes a free one")
	f.StringVarP(&o.out, "out", "o", "", "folder to write static files into")
	f.BoolVar(&o.force, "force", false, "replace files that dryfit has not written")
	return cmd
}

// checkForPage checks a kit without a word on the terminal but for warnings.
func checkForPage(path string) page.Check {
	return func(ctx context.Context, read func([]*mesh.Mesh)) (*plan.Project, error) {
		return project.Load(ctx, path, project.Options{Read: read, Measuring: roomy})
	}
}

func servePage(ctx context.Context, w io.Writer, path string, port int) error {
	if _, err := os.Stat(path); err != nil {
		return err
	}
	l, err := net.Listen("tcp", net.JoinHostPort("127.0.0.1", strconv.Itoa(port)))
	if err != nil {
		return fmt.Errorf("cannot listen on port %d: %w", port, err)
	}
	if _, err := fmt.Fprintf(w, "http://%s/  (Ctrl-C ends it)\n", l.Addr()); err != nil {
		l.Close()
		return err
	}
	progress := newProgress(os.Stderr)
	defer progress.done()
	s := page.NewServer(checkForPage(path), watched(path), tickFile{path})
	s.Make(report.PageMaker(progress.show, progress.warn))
	return s.Serve(ctx, l)
}

// watched lists what a page follows: the kit file and the folder or file of its meshes.
// The kit file is read again only when it has changed.
func watched(path string) func() []string {
	file := path
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		file = filepath.Join(path, kits.FileName)
	}
	var last os.FileInfo
	list := []string{file}
	return func() []string {
		info, err := os.Stat(file)
		if err != nil || last != nil && info.Size() == last.Size() && info.ModTime().Equal(last.ModTime()) {
			return list
		}
		last = info
		if kit, err := kits.ReadFile(file); err == nil {
			list = []string{file}
			if kit.Meshes != "" {
				list = append(list, filepath.Join(filepath.Dir(kit.File), kit.Meshes))
			}
		}
		return list
	}
}

// tickFile keeps ticks in the progress file of a kit.
type tickFile struct{ kit string }

func (t tickFile) open() (*kits.Kit, *record.File, error) {
	k, err := kits.ReadFile(t.kit)
	if err != nil {
		return nil, nil, err
	}
	f, err := record.ReadFile(record.Path(k.File))
	return k, f, err
}

func (t tickFile) Ticked() ([]string, error) {
	_, f, err := t.open()
	var faults kits.Faults
	if errors.As(err, &faults) && f == nil {
		return nil, nil // what is wrong with the kit file is shown anyway
	}
	if err != nil {
		return nil, err
	}
	return append([]string{}, f.Ticked...), nil
}

func (t tickFile) Tick(line string, on bool) error {
	k, f, err := t.open()
	if err != nil {
		return err
	}
	after, err := f.Tick(k, line, on)
	if err != nil {
		return err
	}
	return atomicfile.Write(record.Path(k.File), after.Text(), true, nil)
}

func exportPage(cmd *cobra.Command, path string, o pageOptions) error {
	p, err := load(cmd.Context(), path, project.Options{})
	if err != nil {
		return err
	}
	progress := newProgress(os.Stderr)
	files, err := page.Files(cmd.Context(), p, report.PageMaker(progress.show, progress.warn), progress.warn)
	progress.done()
	if err != nil {
		return err
	}
	for _, f := range files {
		file := filepath.Join(o.out, f.Name)
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			return err
		}
		if err := atomicfile.Write(file, f.Data, o.force, page.Ours); err != nil {
			return err
		}
	}
	if _, err := fmt.Fprintf(cmd.OutOrStdout(), "wrote %s: %d files; open %s\n", kits.Plain(o.out), len(files), kits.Plain(filepath.Join(o.out, "index.html"))); err != nil {
		return err
	}
	return verdict(cmd.ErrOrStderr(), path, p, true)
}
