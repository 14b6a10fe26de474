package page

import (
	"context"
	"errors"
	"os"
	"path/filepath"

	"dryfit/kits"
	"dryfit/kits/mesh"
	"dryfit/kits/progress"
	"dryfit/plan"
	"dryfit/plan/project"
)

// kitFile is a kit on disk: what a page is loaded from, what it watches, and
// where it keeps its ticks.
type kitFile struct {
	path    string
	file    string
	loading project.Options
	last    os.FileInfo // of the kit file when it was last read for watched
	watch   []string
}

func newKitFile(path string, loading project.Options) *kitFile {
	k := &kitFile{path: path, file: path, loading: loading}
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		k.file = filepath.Join(path, kits.FileName)
	}
	k.watch = []string{k.file}
	return k
}

// load loads the kit. It passes the meshes to read before measuring them, which
// may be slow.
func (k *kitFile) load(ctx context.Context, read func([]*mesh.Mesh)) (*plan.Project, error) {
	o := k.loading
	o.Read = read
	return project.Load(ctx, k.path, o)
}

// watched lists what a page watches: the kit file, and the folder or file of its
// meshes. The kit file is read again only when it has changed.
func (k *kitFile) watched() []string {
	info, err := os.Stat(k.file)
	if err != nil || k.last != nil && info.Size() == k.last.Size() && info.ModTime().Equal(k.last.ModTime()) {
		return k.watch
	}
	k.last = info
	if kit, err := kits.ReadFile(k.file); err == nil {
		k.watch = []string{k.file}
		if kit.Meshes != "" {
			k.watch = append(k.watch, filepath.Join(filepath.Dir(kit.File), kit.Meshes))
		}
	}
	return k.watch
}

func (k *kitFile) progress() (*kits.Kit, *progress.File, error) {
	kit, err := kits.ReadFile(k.path)
	if err != nil {
		return nil, nil, err
	}
	f, err := progress.ReadFile(progress.Path(kit.File))
	return kit, f, err
}

// ticked reads what was ticked off; nil while the kit file itself is wrong, which
// the page reports anyway.
func (k *kitFile) ticked() (*progress.File, error) {
	kit, f, err := k.progress()
	var faults kits.Faults
	if kit == nil && errors.As(err, &faults) {
		return nil, nil
	}
	return f, err
}

// tick ticks off a line of a last call, or undoes that. Files written before
// ticks had ids hold its sentence instead, which is removed too.
func (k *kitFile) tick(c callLine, on bool) error {
	kit, err := kits.ReadFile(k.path)
	if err != nil {
		return err
	}
	return progress.Update(progress.Path(kit.File), func(f *progress.File) (*progress.File, error) {
		f, err := f.TickLine(kit, c.ID, on)
		if err == nil && !on {
			f, err = f.TickLine(kit, c.sentence, false)
		}
		return f, err
	})
}
