package release_test

import (
	"archive/zip"
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"dryfit/graphviz/release"
	"dryfit/kits"
	"dryfit/kits/format"
	"dryfit/plan/project"
)

// archive is a release of a kit file and of meshes that are none.
func archive(t *testing.T, kit string) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "old.zip")
	f, err := os.Create(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	z := zip.NewWriter(f)
	for _, one := range [][2]string{{"kit/kit.yaml", kit}, {"kit/meshes.3mf", "none"}} {
		w, err := z.Create("Box/" + one[0])
		if err == nil {
			_, err = w.Write([]byte(one[1]))
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return name
}

// Errors of a kit in an archive name the archive and the file in it, not where it was
// unpacked.
func TestWithin(t *testing.T) {
	for kit, want := range map[string]string{
		"kit: Box\nprats: {}\n":                            ": kit/kit.yaml:2:1: ",
		"kit: Box\nmeshes: meshes.3mf\nparts: {box: {}}\n": ": kit/meshes.3mf: ",
	} {
		name, folder := archive(t, kit), t.TempDir()
		file, err := release.UnpackKit(t.Context(), name, folder)
		if err != nil {
			t.Fatal(err)
		}
		_, raw := project.Load(t.Context(), file, project.Options{})
		err = release.Within(name, folder, raw)
		if err == nil || !strings.Contains(err.Error(), name+want) || strings.Contains(err.Error(), folder) {
			t.Errorf("%v, want %s", err, name+want)
		}
		var before, after kits.Faults
		if errors.As(raw, &before) != errors.As(err, &after) || len(before) != len(after) {
			t.Errorf("%d faults became %d", len(before), len(after))
		}
	}
	if err := release.Within("a.zip", "folder", nil); err != nil {
		t.Error(err)
	}
}

// A kit file in an archive has the limit of any kit file, and unpacking stops once the
// context is over.
func TestUnpackLimits(t *testing.T) {
	large := archive(t, strings.Repeat("#", format.MaxBytes+1))
	if _, err := release.UnpackKit(t.Context(), large, t.TempDir()); err == nil || !strings.Contains(err.Error(), "kit/kit.yaml: it is larger than 4 MB") {
		t.Error(err)
	}
	over, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := release.UnpackKit(over, archive(t, "kit: Box\n"), t.TempDir()); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
}
