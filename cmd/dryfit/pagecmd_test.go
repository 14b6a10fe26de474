package main

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"
)

// TestPageCommand: the command prints where it serves, keeps a tick in the progress
// file, and ends without an error when it is told to.
func TestPageCommand(t *testing.T) {
	kit := filepath.Join(t.TempDir(), "kit.yaml")
	const text = "kit: Box\nscale: \"1:32\"\nparts:\n  box: {name: Box}\n  gem: {name: Gem}\n  lid: {name: Lid}\njoins:\n  - {fit: gem, to: box, with: ca}\n  - {fit: lid, to: box, with: ca}\nspaces:\n  inside: {closed-by: [lid], holds: [gem]}\n"
	if err := os.WriteFile(kit, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	page := servedPage(t, kit)
	id := page.calls[0]
	if got := page.tick(t, id); got != http.StatusNoContent {
		t.Errorf("a tick: %d", got)
	}
	if kept, err := os.ReadFile(strings.TrimSuffix(kit, ".yaml") + ".progress.yaml"); err != nil || !strings.Contains(string(kept), id) {
		t.Errorf("the progress file: %v\n%s", err, kept)
	}
	page.stop()
	select {
	case err := <-page.done:
		if err != nil {
			t.Error(err)
		}
	case <-time.After(time.Minute):
		t.Error("it does not end")
	}
}

// served is a page in the browser of a kit.
type served struct {
	url   string
	calls []string // ids of the lines of last calls
	stop  func()
	done  chan error
}

// servedPage serves a kit with last calls, until the test ends.
func servedPage(t *testing.T, kit string) *served {
	t.Helper()
	ctx, stop := context.WithCancel(t.Context())
	t.Cleanup(stop)
	out, in := io.Pipe()
	s := &served{stop: stop, done: make(chan error, 1)}
	go func() { s.done <- servePage(ctx, in, kit, 0) }()
	first, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		t.Fatal(err)
	}
	s.url, _, _ = strings.Cut(first, " ")
	var state string
	for end := time.Now().Add(time.Minute); !strings.Contains(state, `"last_call":[{"id":`); time.Sleep(10 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("the state is %s", state)
		}
		r, err := pageClient.Get(s.url + "state")
		if err != nil {
			t.Fatal(err)
		}
		data, err := io.ReadAll(r.Body)
		r.Body.Close()
		if err != nil {
			t.Fatal(err)
		}
		state = string(data)
	}
	for _, rest := range strings.Split(state, `"last_call":[{`)[1:] {
		list, _, _ := strings.Cut(rest, "}]")
		for _, m := range regexp.MustCompile(`"id":"([^"]+)"`).FindAllStringSubmatch(list, -1) {
			s.calls = append(s.calls, m[1])
		}
	}
	return s
}

var pageClient = http.Client{Timeout: time.Minute}

// tick ticks a line off, as the page does, and returns the status.
func (s *served) tick(t *testing.T, id string) int {
	t.Helper()
	r, err := http.NewRequest(http.MethodPost, s.url+"tick", strings.NewReader(fmt.Sprintf(`{"id":%q,"on":true}`, id)))
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Origin", strings.TrimSuffix(s.url, "/"))
	r.Header.Set("Content-Type", "application/json")
	answer, err := pageClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	answer.Body.Close()
	return answer.StatusCode
}
