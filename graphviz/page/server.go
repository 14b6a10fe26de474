package page

import (
	"context"
	"embed"
	"errors"
	"io/fs"
	"net"
	"net/http"
	"path"
	"slices"
	"strings"
	"sync"
	"time"

	"golang.org/x/net/netutil"
)

//go:embed assets
var embedded embed.FS

// assets are the files of the page by their names.
var assets = readAssets()

func readAssets() map[string][]byte {
	list := map[string][]byte{}
	entries, err := fs.ReadDir(embedded, "assets")
	if err != nil {
		panic(err) // the files are part of the program
	}
	for _, e := range entries {
		data, err := embedded.ReadFile(path.Join("assets", e.Name()))
		if err != nil {
			panic(err)
		}
		list[e.Name()] = data
	}
	return list
}

var contentTypes = map[string]string{".html": "text/html; charset=utf-8", ".css": "text/css; charset=utf-8", ".js": "text/javascript; charset=utf-8"}

// Limits on requests.
const (
	maxConnections = 256
	maxFollowers   = 16
	maxHeader      = 16 << 10 // bytes
	patience       = 10 * time.Second
	headerPatience = 2 * time.Second // connections that say nothing leave room for others soon
	idlePatience   = 5 * time.Second
)

// server serves the page of a kit on this machine and watches its files.
type server struct {
	kit     *kitFile
	load    loadFunc
	watched func() []string // files and folders to follow
	state   state
	hosts   []string // accepted values of the Host header

	mu        sync.Mutex
	followers map[*follower]bool
}

func newServer(k *kitFile, make Maker) *server {
	s := &server{kit: k, load: k.load, watched: k.watched, state: state{make: make}, followers: map[*follower]bool{}}
	s.state.status.Version = time.Now().UnixMicro()
	s.state.begin()
	k.loading.Tell = s.tell
	return s
}

// serve answers on a listener until the context ends. A page opened before the
// kit is loaded is notified once it is.
func (s *server) serve(ctx context.Context, l net.Listener) error {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	s.hosts = hostsOf(l.Addr())
	var all sync.WaitGroup
	all.Go(func() { watch(ctx, s.watched, s.outdate, s.check) })
	h := &http.Server{Handler: s, ReadHeaderTimeout: headerPatience, ReadTimeout: patience, IdleTimeout: idlePatience, MaxHeaderBytes: maxHeader,
		BaseContext: func(net.Listener) context.Context { return ctx }}
	all.Go(func() {
		<-ctx.Done()
		_ = h.Close() // followers would wait for ever
	})
	err := h.Serve(netutil.LimitListener(l, maxConnections))
	stop()
	all.Wait()
	s.state.end()
	if errors.Is(err, http.ErrServerClosed) {
		return nil
	}
	return err
}

// hostsOf are the names by which a browser on this machine reaches an address.
// Any other name in a request may be one that an attacker points here.
func hostsOf(a net.Addr) []string {
	host, port, err := net.SplitHostPort(a.String())
	if err != nil {
		return nil
	}
	list := []string{net.JoinHostPort(host, port), net.JoinHostPort("localhost", port)}
	if ip := net.ParseIP(host); ip != nil && (ip.IsLoopback() || ip.IsUnspecified()) {
		list = append(list, net.JoinHostPort("127.0.0.1", port), net.JoinHostPort("::1", port))
	}
	return list
}

// policy lets the page load what comes from this server, and nothing else.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// ServeHTTP answers a request. No part of a request is ever used as a file name.
func (s *server) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("Content-Security-Policy", policy)
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cache-Control", "no-store")
	origin := r.Header.Get("Origin")
	host, plain := strings.CutPrefix(origin, "http://")
	switch {
	case !slices.Contains(s.hosts, r.Host):
		http.Error(w, "this page is for this machine only", http.StatusMisdirectedRequest)
		return
	case origin != "" && !(plain && slices.Contains(s.hosts, host)):
		http.Error(w, "asked for by another page", http.StatusForbidden)
		return
	case r.Method == http.MethodPost && r.URL.Path == "/tick":
		s.tick(w, r, origin)
		return
	case r.Method != http.MethodGet && r.Method != http.MethodHead:
		h.Set("Allow", "GET, HEAD")
		http.Error(w, "read only", http.StatusMethodNotAllowed)
		return
	}
	s.answer(w, r)
}

func (s *server) answer(w http.ResponseWriter, r *http.Request) {
	name := strings.TrimPrefix(r.URL.Path, "/")
	if name == "" {
		name = "index.html"
	}
	shape, isShape := strings.CutPrefix(name, "shape/")
	switch {
	case assets[name] != nil:
		w.Header().Set("Content-Type", contentTypes[path.Ext(name)])
		s.send(w, assets[name])
	case name == "state":
		w.Header().Set("Content-Type", "application/json")
		ticked, err := s.kit.ticked()
		s.send(w, s.state.json(r.URL.Query().Get("have"), ticked, err))
	case name == "events" && r.Method == http.MethodHead:
		http.Error(w, "events can only be followed", http.StatusMethodNotAllowed)
	case name == "events" && !slices.Contains([]string{"", "same-origin"}, r.Header.Get("Sec-Fetch-Site")):
		// An image of a foreign site names no origin, but browsers say where it is from.
		http.Error(w, "asked for by another page", http.StatusForbidden)
	case name == "events":
		s.follow(w, r)
	case isShape:
		data := s.state.batch(shape)
		if data == nil {
			http.NotFound(w, r)
			return
		}
		w.Header().Set("Content-Type", "application/octet-stream")
		w.Header().Set("Cache-Control", "private, max-age=31536000, immutable") // named after its content
		s.send(w, data)
	default:
		s.extra(w, name)
	}
}

// send gives a slow reader limited time.
func (s *server) send(w http.ResponseWriter, data []byte) {
	_ = http.NewResponseController(w).SetWriteDeadline(time.Now().Add(patience + time.Duration(len(data)/1e5)*time.Second))
	_, _ = w.Write(data) // there is no one left to report an error to
}
