package page

import (
	"context"
	"fmt"
	"net"
	"os"
	"path/filepath"
	"strconv"

	"dryfit/kits/atomicfile"
	"dryfit/plan"
	"dryfit/plan/project"
)

// Listen opens a local port for a page; 0 picks a free one.
func Listen(port int) (net.Listener, error) {
	l, err := net.Listen("tcp", net.JoinHostPort("127.0.0.1", strconv.Itoa(port)))
	if err != nil {
		return nil, fmt.Errorf("cannot listen on port %d: %w", port, err)
	}
	return l, nil
}

// Serve shows the kit at path on a listener until the context ends. Whenever the
// kit file or a mesh is saved, it loads the kit again and updates the page.
func Serve(ctx context.Context, l net.Listener, path string, make Maker, loading project.Options) error {
	return newServer(newKitFile(path, loading), make).serve(ctx, l)
}

// Export writes the page of a project into a folder, as files that work from any
// web host and from disk, and returns how many. Files that dryfit did not write
// are replaced only with force. Plates or days that cannot be planned are left
// out, and warn says why.
func Export(ctx context.Context, p *plan.Project, make Maker, folder string, force bool, warn func(string)) (int, error) {
	list, err := Files(ctx, p, make, warn)
	if err != nil {
		return 0, err
	}
	for _, f := range list {
		path := filepath.Join(folder, f.Name)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			return 0, err
		}
		if err := atomicfile.Write(path, f.Data, force, ours); err != nil {
			return 0, err
		}
	}
	return len(list), nil
}
