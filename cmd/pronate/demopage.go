package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net"
	"net/http"
	"os"
	"os/signal"
	"strconv"
	"syscall"
	"time"

	"github.com/pronate/pronate/internal/page"
	"github.com/spf13/cobra"
)

// pageFlags are demo's own for the page.
type pageFlags struct {
	asked bool
	port  int
}

func (p *pageFlags) add(c *cobra.Command) {
	c.Flags().BoolVar(&p.asked, "page", false, "serve a page to this machine's browsers instead, until Ctrl-C")
	c.Flags().IntVar(&p.port, "port", 0, "with --page: the port to serve it on; 0 takes any that is free")
	must(c.RegisterFlagCompletionFunc("port", cobra.NoFileCompletions))
}

// check looks for flags that do not go together.
func (p *pageFlags) check(c *cobra.Command) error {
	changed := c.Flags().Changed
	switch {
	case !p.asked && changed("port"):
		return usagef("--port is for --page, expected both or neither")
	case !p.asked:
		return nil
	case changed("output"):
		return usagef("--page writes no files, expected no -o with it")
	case changed("json"):
		return usagef("--page prints no report, expected no --json with it")
	case p.port < 0 || p.port > 65535:
		return usagef("--port %d: expected 0 to 65535", p.port)
	}
	return nil
}

// servePage serves a page's files on this machine alone until the context or a signal
// ends it, which is no failure. It starts no browser: there may be several.
func servePage(ctx context.Context, out io.Writer, files fs.FS, port int) error {
	handler, err := page.Handler(files)
	if err != nil {
		return err
	}
	ctx, stop := signal.NotifyContext(ctx, os.Interrupt, syscall.SIGTERM)
	defer stop()
	listener, err := net.Listen("tcp4", net.JoinHostPort("127.0.0.1", strconv.Itoa(port)))
	if err != nil {
		if inner := (*net.OpError)(nil); errors.As(err, &inner) {
			err = inner.Err // without the address, which is known
		}
		return fmt.Errorf("--port %d: %w, expected a port that is free, or 0 for any", port, err)
	}
	server := &http.Server{
		Handler:           handler,
		ReadHeaderTimeout: 5 * time.Second,
		ReadTimeout:       10 * time.Second,
		WriteTimeout:      time.Minute,
		IdleTimeout:       time.Minute,
		MaxHeaderBytes:    1 << 16,
	}
	if _, err := fmt.Fprintf(out, "open http://%s/ in a browser; Ctrl-C ends it\n", listener.Addr()); err != nil {
		_ = listener.Close() // nobody knows of it
		return err
	}
	ended := make(chan error, 1)
	go func() { ended <- server.Serve(listener) }()
	select {
	case err := <-ended:
		return err
	case <-ctx.Done():
	}
	stop() // a second Ctrl-C does not wait
	grace, cancel := context.WithTimeout(context.Background(), time.Second)
	defer cancel()
	if server.Shutdown(grace) != nil { // a browser keeps connections that it does not use
		return server.Close()
	}
	return nil
}
