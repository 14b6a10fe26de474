package page

import (
	"net"
	"sync"
)

// limited is a listener that accepts only so many connections at a time; others wait.
func limited(l net.Listener) net.Listener {
	return &limitedListener{Listener: l, room: make(chan struct{}, maxConnections), closed: make(chan struct{})}
}

type limitedListener struct {
	net.Listener
	room   chan struct{}
	closed chan struct{}
	once   sync.Once
}

func (l *limitedListener) Accept() (net.Conn, error) {
	select {
	case l.room <- struct{}{}:
	case <-l.closed:
		return nil, net.ErrClosed
	}
	c, err := l.Listener.Accept()
	if err != nil {
		<-l.room
		return nil, err
	}
	return &limitedConn{Conn: c, leave: func() { <-l.room }}, nil
}

func (l *limitedListener) Close() error {
	l.once.Do(func() { close(l.closed) })
	return l.Listener.Close()
}

type limitedConn struct {
	net.Conn
	once  sync.Once
	leave func()
}

func (c *limitedConn) Close() error {
	defer c.once.Do(c.leave)
	return c.Conn.Close()
}
