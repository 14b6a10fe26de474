package booklet

import (
	"context"
	"path/filepath"

	"dryfit/graphviz/draw"
	"dryfit/kits"
	"dryfit/kits/cache"
	"dryfit/kits/mesh"
	"dryfit/plan"
)

// cacheKind is that of pictures.
const cacheKind = "pictures"

// MakeKept is [Make] with the pictures that were kept in the user's cache folder, which it
// keeps again for the next time. Warn is told of pictures that cannot be kept; the booklet
// is made all the same.
func MakeKept(ctx context.Context, p *plan.Project, o Options, warn func(string)) (*Made, error) {
	if p.Meshes == nil {
		return Make(ctx, p, o)
	}
	entry := entryOf(p)
	// Pictures that cannot be read are drawn anew.
	if kept, err := draw.ReadCache(entry.Read()); err == nil {
		o.Cache = kept
	}
	made, err := Make(ctx, p, o)
	if err != nil || !made.Cache.Changed() {
		return made, err
	}
	data, err := made.Cache.Bytes()
	if err == nil {
		err = entry.Write(data)
	}
	if err != nil {
		warn("the pictures are not kept: " + kits.Plain(err.Error()))
	}
	return made, nil
}

// entryOf is the cache entry of the pictures of a kit.
func entryOf(p *plan.Project) *cache.Entry {
	return cache.NewEntry(cacheKind, filepath.Join(filepath.Dir(p.Kit.File), p.Kit.Meshes), mesh.Hashes(p.Meshes.All())...)
}
