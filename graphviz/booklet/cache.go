package booklet

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"dryfit/graphviz/draw"
	"dryfit/kits"
	"dryfit/kits/atomicfile"
	"dryfit/plan"
)

// MakeKept is [Make] with the pictures that were kept beside the meshes, which it keeps
// again for the next time. Warn is called for pictures that cannot be read or kept; the
// booklet is made all the same.
func MakeKept(ctx context.Context, p *plan.Project, o Options, warn func(string)) (*Made, error) {
	if p.Meshes == nil {
		return Make(ctx, p, o)
	}
	file := filepath.Join(filepath.Dir(p.Kit.File), p.Kit.Meshes) + ".pictures"
	var err error
	if o.Cache, err = readCache(file); err != nil {
		warn(fmt.Sprintf("%s is not used, the pictures are made again: %v", kits.Plain(file), err))
	}
	made, err := Make(ctx, p, o)
	if err != nil || !made.Cache.Changed() {
		return made, err
	}
	data, err := made.Cache.Bytes()
	if err == nil {
		err = atomicfile.Write(file, data, false, draw.OursCache)
	}
	if err != nil {
		warn("the pictures are not kept: " + kits.Plain(err.Error()))
	}
	return made, nil
}

// maxCacheFile bounds the file that is read, in bytes.
const maxCacheFile = 256 << 20

// readCache reads the pictures that were kept; none if there is no file.
func readCache(file string) (*draw.Cache, error) {
	info, err := os.Stat(file)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil
	case err != nil:
		return nil, err
	case info.Size() > maxCacheFile:
		return nil, fmt.Errorf("too large")
	}
	data, err := os.ReadFile(file)
	if err != nil {
		return nil, err
	}
	return draw.ReadCache(data)
}
