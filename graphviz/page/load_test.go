package page

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/url"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"dryfit/kits/kitstest"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan"
)

// dial connects to a page and sends a part of a request.
func dial(t *testing.T, page, text string) net.Conn {
	t.Helper()
	u, err := url.Parse(page)
	if err != nil {
		t.Fatal(err)
	}
	c, err := net.DialTimeout("tcp", u.Host, limit)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { c.Close() })
	if _, err := io.WriteString(c, strings.ReplaceAll(text, "HERE", u.Host)); err != nil {
		t.Fatal(err)
	}
	return c
}

// TestSlow: who sends a byte a second is sent away, before the head of a request and
// within its body.
func TestSlow(t *testing.T) {
	if testing.Short() {
		t.Skip("it waits until patience ends")
	}
	page := serve(t, chest(t, ""))
	for _, begin := range []string{"GET / HT", "POST /tick HTTP/1.1\r\nHost: HERE\r\nOrigin: http://HERE\r\nContent-Type: application/json\r\nContent-Length: 4000\r\n\r\n"} {
		t.Run(begin[:4], func(t *testing.T) {
			t.Parallel()
			c := dial(t, page, begin)
			gone := make(chan error, 1)
			go func() { _, err := io.Copy(io.Discard, c); gone <- err }()
			end := time.After(4 * patience)
			for {
				select {
				case <-gone:
					return
				case <-end:
					t.Fatal("the connection is still there")
				case <-time.After(time.Second):
					_, _ = c.Write([]byte("x"))
				}
			}
		})
	}
}

// TestManyConnections: those beyond the bound wait and are served when others leave.
func TestManyConnections(t *testing.T) {
	page := serve(t, chest(t, ""))
	var idle []net.Conn
	for range maxConnections {
		idle = append(idle, dial(t, page, "GET /"))
	}
	waits := dial(t, page, "GET / HTTP/1.1\r\nHost: HERE\r\nConnection: close\r\n\r\n")
	_ = waits.SetReadDeadline(time.Now().Add(300 * time.Millisecond))
	if n, err := waits.Read(make([]byte, 1)); err == nil {
		t.Errorf("%d bytes for one connection too many", n)
	}
	for _, c := range idle {
		c.Close()
	}
	_ = waits.SetReadDeadline(time.Now().Add(limit))
	r, err := http.ReadResponse(bufio.NewReader(waits), nil)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	if r.StatusCode != http.StatusOK {
		t.Errorf("then: %d", r.StatusCode)
	}
}

// TestManyFollowers: those beyond the limit are told so, and there is room again
// when one has gone.
func TestManyFollowers(t *testing.T) {
	page := serve(t, chest(t, ""))
	const ask = "GET /events HTTP/1.1\r\nHost: HERE\r\n\r\n"
	status := func() (net.Conn, int) {
		c := dial(t, page, ask)
		_ = c.SetReadDeadline(time.Now().Add(limit))
		r, err := http.ReadResponse(bufio.NewReader(c), nil)
		if err != nil {
			t.Fatal(err)
		}
		return c, r.StatusCode
	}
	var first net.Conn
	for i := range maxFollowers {
		c, got := status()
		if got != http.StatusOK {
			t.Fatalf("follower %d: %d", i+1, got)
		}
		if i == 0 {
			first = c
		}
	}
	if _, got := status(); got != http.StatusServiceUnavailable {
		t.Errorf("one too many: %d", got)
	}
	first.Close()
	for end := time.Now().Add(limit); ; time.Sleep(10 * time.Millisecond) {
		if _, got := status(); got == http.StatusOK {
			break
		} else if time.Now().After(end) {
			t.Fatalf("when one has gone: %d", got)
		}
	}
}

// TestHead: what there is can be asked for without its body; following cannot be.
func TestHead(t *testing.T) {
	page := serve(t, chest(t, ""))
	for path, want := range map[string]int{"": 200, "main.js": 200, "state": 200, "nothing": 404, "events": 405} {
		client := http.Client{Timeout: limit}
		r, err := client.Head(page + path)
		if err != nil {
			t.Fatal(err)
		}
		r.Body.Close()
		if r.StatusCode != want {
			t.Errorf("HEAD /%s: %d, want %d", path, r.StatusCode, want)
		}
	}
}

// TestTwoServers: two kits are served side by side and do not mix.
func TestTwoServers(t *testing.T) {
	a, b := serve(t, chest(t, "")), serve(t, newKit(t, schemeText, nil))
	for page, name := range map[string]string{a: "Chest", b: "Scheme"} {
		if text := get(t, page+"state"); !strings.Contains(text, `"kit":"`+name+`"`) {
			t.Errorf("%s says %.60s", name, text)
		}
	}
	shape := between(t, get(t, a+"state"), `"shape":"`, `"`)
	r, err := http.Get(b + "shape/" + shape)
	if err != nil {
		t.Fatal(err)
	}
	r.Body.Close()
	if r.StatusCode != http.StatusNotFound {
		t.Errorf("a shape of the other kit: %d", r.StatusCode)
	}
}

const schemeText = `kit: Scheme
scale: "1:32"
parts:
  base: {name: Base, printed: resin, size: [60, 40, 10]}
  post: {name: Post, printed: resin, quantity: 2, size: [8, 8, 30]}
joins:
  - {fit: post, to: base, with: ca}
`

func get(t *testing.T, address string) string {
	t.Helper()
	client := http.Client{Timeout: limit}
	r, err := client.Get(address)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	data, err := io.ReadAll(r.Body)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func between(t *testing.T, text, from, to string) string {
	t.Helper()
	_, rest, _ := strings.Cut(text, from)
	found, _, ok := strings.Cut(rest, to)
	if !ok {
		t.Fatalf("%q is not there", from)
	}
	return found
}

// ends ends a server and fails if that hangs.
func ends(t *testing.T, end func() error) {
	t.Helper()
	done := make(chan error, 1)
	go func() { done <- end() }()
	select {
	case err := <-done:
		if err != nil {
			t.Error(err)
		}
	case <-time.After(2 * limit):
		t.Fatal("the server does not end")
	}
}

// TestEnd: the server ends though one follows, one is idle and one is slow, and
// leaves nothing that runs.
func TestEnd(t *testing.T) {
	f := chest(t, "")
	before := runtime.NumGoroutine()
	page, end := serveWith(t, f.server(Maker{}))
	for _, text := range []string{"GET /events HTTP/1.1\r\nHost: HERE\r\n\r\n", "", "GET / HT", "GET / HTTP/1.1\r\nHost: HERE\r\n\r\n"} {
		dial(t, page, text)
	}
	get(t, page)
	http.DefaultClient.CloseIdleConnections()
	ends(t, end)
	for stop := time.Now().Add(limit); runtime.NumGoroutine() > before; time.Sleep(10 * time.Millisecond) {
		if time.Now().After(stop) {
			text := make([]byte, 1<<16)
			t.Fatalf("%d goroutines, %d before\n%s", runtime.NumGoroutine(), before, text[:runtime.Stack(text, true)])
		}
	}
}

// TestEndWhileChecking: the end cancels a check that is under way, which then gives up.
func TestEndWhileChecking(t *testing.T) {
	f := chest(t, "")
	checked := make(chan error, 1)
	check := func(ctx context.Context, read func([]*mesh.Mesh)) (*plan.Project, error) {
		<-ctx.Done()
		p, err := f.check(ctx, read)
		checked <- err
		return p, err
	}
	s := f.server(Maker{})
	s.load = check
	page, end := serveWith(t, s)
	if text := get(t, page+"state"); !strings.Contains(text, `"model":null`) {
		t.Errorf("before the first check is done there is %.60s", text)
	}
	ends(t, end)
	if err := <-checked; !errors.Is(err, context.Canceled) {
		t.Errorf("the check ended with %v, want it cancelled", err)
	}
}

// TestDayOfReloads: a kit that changes 500 times takes no more memory than one that has
// changed 50 times. The bound leaves room for what the runtime itself keeps.
func TestDayOfReloads(t *testing.T) {
	if testing.Short() {
		t.Skip("it measures 500 kits")
	}
	f := chest(t, "")
	s := f.server(Maker{})
	heap := func() uint64 {
		runtime.GC()
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return m.HeapAlloc
	}
	var early uint64
	rounds := kitstest.Rounds(t, 500, 80)
	for i := range rounds {
		cells := meshtest.Cells(ring(2) + " 112" + fmt.Sprintf(" %d%d%d", i%10, 9-i/10%10, 3+i/100))
		writeMesh(t, filepath.Join(f.meshes(), "lid.stl"), meshtest.Cubes(cells, 10))
		f.write(t, strings.Replace(fmt.Sprintf(chestText, ""), "Chest", fmt.Sprintf("Chest %d", i), 1))
		s.state.refresh(context.Background(), f.check, always, func() {})
		if i == 50 {
			early = heap()
		}
	}
	late := heap()
	t.Logf("heap after 50 changes %d kB, after %d %d kB", early/1000, rounds, late/1000)
	if late > early+2<<20 {
		t.Errorf("heap after 50 changes %d, after %d %d", early, rounds, late)
	}
	if n := len(s.state.now.shapes); n > 4 {
		t.Errorf("%d shapes are kept for 4 pieces", n)
	}
	if left, err := filepath.Glob(filepath.Join(string(f), "*")); err != nil || len(left) > 3 {
		t.Errorf("files: %v, %v", left, err)
	}
}
