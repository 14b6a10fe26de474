package page

import (
	"bufio"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"maps"
	"net"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// raw sends the bytes of a request as they are and returns the answer.
func raw(t *testing.T, page, text string) (*http.Response, string) {
	t.Helper()
	u, err := url.Parse(page)
	if err != nil {
		t.Fatal(err)
	}
	c, err := net.DialTimeout("tcp", u.Host, limit)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	_ = c.SetDeadline(time.Now().Add(limit))
	if _, err := io.WriteString(c, strings.ReplaceAll(text, "HERE", u.Host)); err != nil {
		t.Fatal(err)
	}
	r, err := http.ReadResponse(bufio.NewReader(c), nil)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	body, err := io.ReadAll(r.Body)
	if err != nil {
		t.Fatal(err)
	}
	return r, string(body)
}

// TestNoFileIsReached checks that no request path names a file, not even one that
// the kit's folder holds.
func TestNoFileIsReached(t *testing.T) {
	f := chest(t, "")
	const secret = "this is nobody's business"
	if err := os.WriteFile(filepath.Join(string(f), "secret"), []byte(secret), 0o644); err != nil {
		t.Fatal(err)
	}
	page := serve(t, f)
	up := []string{"../", "..%2f", "%2e%2e/", "%2e%2e%2f", "..%5c", "..\\", "..%c0%af", "%252e%252e%252f", "....//", ".%00./", "..;/", "shape/../", "shape/..%2f", "//", "/./"}
	for _, u := range up {
		for _, name := range []string{"secret", "kit.yaml", "etc/passwd", "server.go", "assets/main.js"} {
			for _, depth := range []int{1, 8} {
				path := "/" + strings.Repeat(u, depth) + name
				r, body := raw(t, page, "GET "+path+" HTTP/1.1\r\nHost: HERE\r\nConnection: close\r\n\r\n")
				if r.StatusCode == http.StatusOK || strings.Contains(body, secret) || strings.Contains(body, "kit: Chest") {
					t.Errorf("%s: %d %.60q", path, r.StatusCode, body)
				}
			}
		}
	}
	for _, path := range []string{f.file(), "file://" + f.file(), "http://elsewhere.example/", "/assets/", "/assets", "/shape/", "/shape/" + strings.Repeat("0", 32)} {
		if r, body := raw(t, page, "GET "+path+" HTTP/1.1\r\nHost: HERE\r\nConnection: close\r\n\r\n"); r.StatusCode == http.StatusOK && path != "http://elsewhere.example/" {
			t.Errorf("%s: %d %.60q", path, r.StatusCode, body)
		}
	}
}

// TestForeigners: a page that is not this one, or a name that was made to point to this
// machine, gets nothing and is granted nothing.
func TestForeigners(t *testing.T) {
	f := chest(t, "")
	page := serve(t, f)
	port := page[strings.LastIndex(page, ":")+1 : len(page)-1]
	for _, host := range []string{"elsewhere.example", "elsewhere.example:" + port, "127.0.0.1", "127.0.0.1:1", "localhost", "localhost." + ":" + port, "0.0.0.0:" + port, "127.0.0.1.elsewhere.example:" + port, ""} {
		for _, path := range []string{"/", "/state", "/events", "/main.js"} {
			r, body := raw(t, page, "GET "+path+" HTTP/1.1\r\nHost: "+host+"\r\nConnection: close\r\n\r\n")
			if r.StatusCode/100 != 4 || strings.Contains(body, "Chest") {
				t.Errorf("host %q, %s: %d %.60q", host, path, r.StatusCode, body)
			}
		}
	}
	for _, origin := range []string{"http://elsewhere.example", "https://127.0.0.1:" + port, "http://127.0.0.1:1", "null", "file://", "http://localhost:1", "http://HERE.elsewhere.example", "http://http://HERE", "HERE"} {
		for _, ask := range []string{"GET /state", "GET /events", "OPTIONS /tick", "POST /tick"} {
			r, body := raw(t, page, ask+" HTTP/1.1\r\nHost: HERE\r\nOrigin: "+origin+"\r\nContent-Type: application/json\r\nContent-Length: 2\r\nConnection: close\r\n\r\n{}")
			if r.StatusCode != http.StatusForbidden || strings.Contains(body, "Chest") {
				t.Errorf("origin %q, %s: %d %.60q", origin, ask, r.StatusCode, body)
			}
			if r.Header.Get("Access-Control-Allow-Origin") != "" {
				t.Errorf("origin %q is granted something", origin)
			}
		}
	}
	// An image of a foreign page names no origin.
	for _, site := range []string{"cross-site", "same-site", "none"} {
		if r, _ := raw(t, page, "GET /events HTTP/1.1\r\nHost: HERE\r\nSec-Fetch-Site: "+site+"\r\nConnection: close\r\n\r\n"); r.StatusCode != http.StatusForbidden {
			t.Errorf("followed from %s: %d", site, r.StatusCode)
		}
	}
	for _, host := range []string{"HERE", "localhost:" + port, "[::1]:" + port} {
		if r, _ := raw(t, page, "GET / HTTP/1.1\r\nHost: "+host+"\r\nConnection: close\r\n\r\n"); r.StatusCode != http.StatusOK {
			t.Errorf("host %s: %d, it is this machine", host, r.StatusCode)
		}
	}
}

// TestOnlyTicksAreWritten: nothing but a tick of a line that is there, by the page
// itself, is taken; and nothing else changes a file.
func TestOnlyTicksAreWritten(t *testing.T) {
	f := chest(t, "")
	page := serve(t, f)
	id := firstCall(t, f).ID
	good := fmt.Sprintf(`{"id":%q,"on":true}`, id)
	post := func(path, header, body string) int {
		t.Helper()
		r, _ := raw(t, page, fmt.Sprintf("POST %s HTTP/1.1\r\nHost: HERE\r\n%sContent-Length: %d\r\nConnection: close\r\n\r\n%s", path, header, len(body), body))
		return r.StatusCode
	}
	const own, kind = "Origin: http://HERE\r\n", "Content-Type: application/json\r\n"
	before := listing(t, f)
	for _, c := range []struct {
		what, path, header, body string
		status                   int
	}{
		{"no origin", "/tick", kind, good, 403},
		{"a form", "/tick", own + "Content-Type: application/x-www-form-urlencoded\r\n", good, 403},
		{"plain text", "/tick", own + "Content-Type: text/plain\r\n", good, 403},
		{"no type", "/tick", own, good, 403},
		{"another path", "/state", own + kind, good, 405},
		{"the page", "/", own + kind, good, 405},
		{"a file", "/kit.yaml", own + kind, good, 405},
		{"an unknown line", "/tick", own + kind, `{"id":"fitting nothing/fit/gem","on":true}`, 404},
		{"no line", "/tick", own + kind, `{}`, 404},
		{"a sentence", "/tick", own + kind, fmt.Sprintf(`{"id":%q,"on":true}`, firstCall(t, f).sentence), 404},
		{"a key more", "/tick", own + kind, `{"id":"x","on":true,"file":"/etc/passwd"}`, 400},
		{"a list", "/tick", own + kind, `[1,2]`, 400},
		{"a number", "/tick", own + kind, `{"id":7}`, 400},
		{"nothing", "/tick", own + kind, ``, 400},
		{"deep nesting", "/tick", own + kind, strings.Repeat("[", 5000), 400},
		{"more than a tick needs", "/tick", own + kind, `{"id":"` + strings.Repeat("x", 1<<20) + `"}`, 400},
	} {
		if got := post(c.path, c.header, c.body); got != c.status {
			t.Errorf("%s: %d, want %d", c.what, got, c.status)
		}
	}
	for _, method := range []string{"PUT", "DELETE", "PATCH", "TRACE", "CONNECT", "POSTS"} {
		if r, _ := raw(t, page, method+" /tick HTTP/1.1\r\nHost: HERE\r\nContent-Length: 0\r\nConnection: close\r\n\r\n"); r.StatusCode/100 != 4 {
			t.Errorf("%s: %d", method, r.StatusCode)
		}
	}
	if after := listing(t, f); after != before {
		t.Errorf("files before:\n%s\nand after:\n%s", before, after)
	}
	if got := post("/tick", own+kind, good); got != http.StatusNoContent {
		t.Errorf("a true tick: %d", got)
	}
	if ticked := f.ticked(t); len(ticked) != 1 || ticked[0] != id {
		t.Errorf("ticked %q", ticked)
	}
}

// TestBodyWithoutEnd checks that little is read of a body that claims to be a
// terabyte long.
func TestBodyWithoutEnd(t *testing.T) {
	page := serve(t, chest(t, ""))
	r, _ := raw(t, page, "POST /tick HTTP/1.1\r\nHost: HERE\r\nOrigin: http://HERE\r\nContent-Type: application/json\r\nContent-Length: 1000000000000\r\n\r\n{\"line\":\""+strings.Repeat("x", 2*maxTick))
	if r.StatusCode != http.StatusBadRequest || !r.Close {
		t.Errorf("%d, closed %v", r.StatusCode, r.Close)
	}
}

// TestSlowConnections: connections that say nothing, more than are served at once, are
// closed soon, so that the page is answered.
func TestSlowConnections(t *testing.T) {
	page := serve(t, chest(t, ""))
	for range maxConnections + 50 {
		dial(t, page, "GET / HTTP/1.1\r\n")
	}
	if r, _ := raw(t, page, "GET / HTTP/1.1\r\nHost: HERE\r\nConnection: close\r\n\r\n"); r.StatusCode != http.StatusOK {
		t.Errorf("%d", r.StatusCode)
	}
}

// TestLongHead: a head longer than the bound is not taken. Its sender may find the
// connection cut off before the answer.
func TestLongHead(t *testing.T) {
	c := dial(t, serve(t, chest(t, "")), "GET / HTTP/1.1\r\nHost: HERE\r\nX: "+strings.Repeat("x", 2*maxHeader)+"\r\n\r\n")
	_ = c.SetReadDeadline(time.Now().Add(limit))
	r, err := http.ReadResponse(bufio.NewReader(c), nil)
	if errors.Is(err, os.ErrDeadlineExceeded) || err == nil && r.StatusCode != http.StatusRequestHeaderFieldsTooLarge {
		t.Error(r, err)
	}
}

// firstCall is the first line of the first last call of a kit.
func firstCall(t *testing.T, f folder) callLine {
	t.Helper()
	rep, err := f.check(t.Context(), nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range newModel(rep, rep.Meshes.All(), grains{}).Steps {
		if len(s.LastCall) > 0 {
			return s.LastCall[0]
		}
	}
	t.Fatal("the kit has no last call")
	return callLine{}
}

// listing names the files of a kit with their contents.
func listing(t *testing.T, f folder) string {
	t.Helper()
	var b strings.Builder
	err := filepath.WalkDir(string(f), func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		fmt.Fprintf(&b, "%s %q\n", path, data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// TestBatches: shapes come several at a time, whole and in the sequence asked for; a
// batch with one that is not there, or too many, is refused.
func TestBatches(t *testing.T) {
	f := chest(t, "")
	page := serve(t, f)
	rep, err := f.check(t.Context(), nil)
	if err != nil {
		t.Fatal(err)
	}
	_, shapes, err := build(rep, rep.Meshes.All(), nil)
	if err != nil {
		t.Fatal(err)
	}
	names := slices.Sorted(maps.Keys(shapes))
	rest := get(t, page+"shape/"+strings.Join(names, ","))
	for _, n := range names {
		want := string(binary.LittleEndian.AppendUint32(nil, uint32(len(shapes[n])))) + string(shapes[n])
		if !strings.HasPrefix(rest, want) {
			t.Fatalf("shape %s is another", n)
		}
		rest = rest[len(want):]
	}
	if rest != "" {
		t.Errorf("%d bytes too many", len(rest))
	}
	for what, ask := range map[string]string{"one is not there": names[0] + ",x", "none": "", "commas": ",,", "too many": strings.Repeat(names[0]+",", maxBatch) + names[0]} {
		if r, _ := raw(t, page, "GET /shape/"+ask+" HTTP/1.1\r\nHost: HERE\r\nConnection: close\r\n\r\n"); r.StatusCode != http.StatusNotFound {
			t.Errorf("%s: %d", what, r.StatusCode)
		}
	}
}
