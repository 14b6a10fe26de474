package page

import (
	"archive/tar"
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"dryfit/kits/kitstest"
)

// axeVersion is that of the rules of accessibility that the page is held against. They
// are fetched with npm once and kept in the user's cache folder.
const axeVersion = "4.14.1"

var axe = sync.OnceValues(func() (string, error) {
	cache, err := os.UserCacheDir()
	if err != nil {
		return "", err
	}
	file := filepath.Join(cache, "dryfit-test", "axe-"+axeVersion+".js")
	if text, err := os.ReadFile(file); err == nil {
		return string(text), nil
	}
	text, err := fetchAxe()
	if err != nil {
		return "", fmt.Errorf("the rules of accessibility cannot be had, and are NOT checked: %w", err)
	}
	if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
		return "", err
	}
	tmp := file + fmt.Sprint(".", os.Getpid())
	if err := os.WriteFile(tmp, text, 0o644); err != nil {
		return "", err
	}
	return string(text), os.Rename(tmp, file)
})

func fetchAxe() ([]byte, error) {
	dir, err := os.MkdirTemp("", "dryfit-axe-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	c := exec.Command("npm", "pack", "--silent", "axe-core@"+axeVersion)
	c.Dir = dir
	if out, err := c.CombinedOutput(); err != nil {
		return nil, fmt.Errorf("npm pack: %w: %s", err, out)
	}
	f, err := os.Open(filepath.Join(dir, "axe-core-"+axeVersion+".tgz"))
	if err != nil {
		return nil, err
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		return nil, err
	}
	for r := tar.NewReader(z); ; {
		h, err := r.Next()
		if err != nil {
			return nil, errors.Join(err, errors.New("axe.min.js is not in the package"))
		}
		if h.Name == "package/axe.min.js" {
			return io.ReadAll(r)
		}
	}
}

// TestAccessible: no rule of accessibility finds anything serious, light and dark, wide
// and narrow, in every list.
func TestAccessible(t *testing.T) {
	if testing.Short() {
		t.Skip("it runs a browser")
	}
	rules, err := axe()
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal(err)
		}
		t.Skip("skipped: ", err)
	}
	f := trapped(t)
	whole := timedChest(t)
	s := whole.server(maker(new(atomic.Int32)))
	stuck, sound := serve(t, f), serveThis(t, s)
	const light = "prefers-color-scheme=light"
	for _, c := range kitstest.Some(t, 2, []struct {
		width  int64
		scheme string
		pages  []string // another first, for where only that is looked at
	}{{1280, light, []string{stuck, sound}}, {1280, dark, []string{stuck, sound}}, {360, dark, []string{sound, stuck}}, {360, light, []string{sound, stuck}}}) {
		t.Run(fmt.Sprint(c.width, " ", c.scheme), func(t *testing.T) {
			b := newTab(t, c.width, 800, c.scheme)
			for _, p := range kitstest.Some(t, 2, c.pages) {
				b.open(p)
				js[int](b, "%s", rules+";1")
				b.run("document.querySelector('header').append(document.createElement('button'))")
				if found := b.serious(); len(found) != 1 || !strings.HasPrefix(found[0], "button-name") {
					t.Errorf("of a button without a name the rules say %q", found)
				}
				b.run("document.querySelector('header button').remove()")
				for _, tab := range []string{"steps", "findings", "calls", "tree", "parts", "plates", "days"} {
					if js[bool](b, "document.getElementById('tab-%s').hidden", tab) {
						continue
					}
					b.click("tab-" + tab)
					b.run("dryfit.scene.go(2); dryfit.scene.pick(1); document.getElementById('search').value = 'e'; document.getElementById('search').dispatchEvent(new Event('input')); dryfit.say('kit.yaml:1:1: a trouble', true)")
					b.run("await new Promise(requestAnimationFrame)") // the model need not be at rest for the rules
					found := b.serious()
					for _, s := range found {
						t.Errorf("%s: %s", tab, s)
					}
				}
			}
		})
	}
}

// serious lists what the rules find in a page that matters.
func (b *tab) serious() []string {
	b.t.Helper()
	return js[[]string](b, `axe.run({ resultTypes: ["violations"] }).then(r => r.violations
		.filter(v => v.impact === "serious" || v.impact === "critical")
		.map(v => v.id + ": " + v.help + ": " + v.nodes.map(n => n.html + " " + n.failureSummary).join("; ")))`)
}
