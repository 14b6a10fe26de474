package page

import (
	"strings"
	"testing"

	"dryfit/kits/kitstest"
)

// TestHostileNames checks that hostile names and notes of a kit are shown as text
// and run nothing, from the server and in the static page.
func TestHostileNames(t *testing.T) {
	names := []string{
		`<script>window.pwned = 1</script>`, `<img src=x onerror=window.pwned=1>`, `</script><script>window.pwned = 1</script>`,
		`"><svg onload=window.pwned=1>`, `';window.pwned=1;//`, `${window.pwned=1}`, `javascript:window.pwned=1`, `<!--`, `]]>`, `&lt;b&gt;`,
	}
	text := "kit: " + quoted(names[0]) + "\nabout: " + quoted(names[1]) + "\nscale: \"1:32\"\nrevision: " + quoted(names[2]) + "\nparts:\n  base: {name: " + quoted(names[3]) + ", printed: resin}\n"
	joins := "joins:\n"
	for i, n := range names {
		id := "part-" + string(rune('a'+i))
		text += "  " + id + ": {name: " + quoted(n) + ", printed: resin, note: " + quoted(names[(i+1)%len(names)]) + "}\n"
		joins += "  - {fit: " + id + ", to: base, with: ca, note: " + quoted(n) + "}\n"
	}
	f := newKit(t, text+joins+"tasks:\n  - {do: "+quoted(names[1])+", after: [part-a]}\n", nil)
	for _, page := range kitstest.Some(t, 2, []string{serve(t, f), exportedPage(t, f, Maker{})}) {
		b := newTab(t, 1000, 700)
		b.open(page)
		for _, tab := range []string{"steps", "findings", "calls", "tree", "parts"} {
			b.click("tab-" + tab)
		}
		b.run("document.getElementById('search').value = 'part'; document.getElementById('search').dispatchEvent(new Event('input'))")
		for i := range names {
			b.run("dryfit.scene.go(%d); dryfit.scene.pick(%d)", i, i)
		}
		b.settle()
		want(b, "undefined", "typeof window.pwned")
		want(b, 0, "document.querySelectorAll('main script, main img:not(#picture), #marks img, svg[onload], header script, header img').length")
		if got := b.text("kit"); !strings.HasPrefix(got, names[0]) {
			t.Errorf("the name is shown as %q", got)
		}
		all := js[string](b, "document.body.textContent")
		for _, n := range names {
			if !strings.Contains(all, n) {
				t.Errorf("%q is not shown as it is", n)
			}
		}
		b.close()
	}
}

// TestTurningTextAround: characters that reorder text do not get into a page.
func TestTurningTextAround(t *testing.T) {
	f := newKit(t, strings.Replace(schemeText, "name: Post", `name: "Post\u202Egem\u2066"`, 1), nil)
	page := serve(t, f)
	if text := get(t, page+"state"); strings.ContainsAny(text, "\u202e\u2066") || !strings.Contains(text, "control character") {
		t.Errorf("the page is given %s", text)
	}
}

func quoted(s string) string { return "'" + strings.ReplaceAll(s, "'", "''") + "'" }
