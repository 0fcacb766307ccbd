package main

import (
	"bytes"
	"context"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/x509"
	"encoding/pem"
	"math/big"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// runWith executes one command line with something on the standard input.
func runWith(t *testing.T, in string, args ...string) (status int, out, errText string) {
	t.Helper()
	var o, e bytes.Buffer
	status = run(context.Background(), args, streams{in: strings.NewReader(in), out: &o, err: &e})
	return status, o.String(), e.String()
}

// Accounts are opened, changed and closed on the command line; the password comes from the standard input.
func TestUserCommands(t *testing.T) {
	file := filepath.Join(t.TempDir(), "shelf.sqlite")
	user := func(in string, args ...string) (int, string, string) {
		return runWith(t, in, append([]string{"user", "--shelf", file}, args...)...)
	}
	expect := func(status int, words string, args ...string) {
		t.Helper()
		in := ""
		if args[0] == "add" || args[0] == "password" {
			in = "seven boats on a slip\n"
		}
		got, out, errText := user(in, args...)
		if got != status || !strings.Contains(out+errText, words) {
			t.Errorf("user %s: status %d, wanted %d with %q:\n%s%s", strings.Join(args, " "), got, status, words, out, errText)
		}
	}
	expect(exitNone, "no users", "list")
	expect(exitFailed, "Let the first user be one who may manage", "add", "ben")
	expect(exitNone, "ada may manage", "add", "ada", "--role", "manage", "--full", "Ada K.")
	expect(exitNone, "ben may read", "add", "Ben")
	expect(exitFailed, "must be one of", "add", "cyd", "--role", "owner")
	expect(exitFailed, "There is or was a user", "add", "ben")
	if got, _, errText := user("password1234\n", "add", "dora"); got != exitFailed || !strings.Contains(errText, "tried first") {
		t.Errorf("a common password: %d %s", got, errText)
	}
	if got, _, errText := user("", "add", "dora"); got != exitFailed || !strings.Contains(errText, "there is no password") {
		t.Errorf("no password: %d %s", got, errText)
	}
	expect(exitNone, "Ada K.", "list")
	expect(exitNone, `"role": "manage"`, "list", "--json")
	expect(exitNone, "ben may work", "role", "ben", "work")
	expect(exitFailed, "Nobody else may manage", "role", "ada", "read")
	expect(exitNone, "sessions have ended", "password", "ben")
	expect(exitNone, "signed out on every machine", "out", "ben")
	expect(exitFailed, "ben may not manage", "token", "ben", "--for", "scanner", "--role", "manage")
	got, secret, errText := user("", "token", "ben", "--for", "scanner", "--role", "work", "--days", "30")
	if got != exitNone || !strings.HasPrefix(secret, "sixteen_") || strings.Contains(errText, strings.TrimSpace(secret)) {
		t.Errorf("a token: %d %q %s", got, secret, errText)
	}
	_, list, _ := user("", "tokens", "ben")
	if !strings.Contains(list, "scanner") {
		t.Errorf("the tokens are %q", list)
	}
	expect(exitNone, "opens nothing", "tokens", "ben", "--off", strings.Fields(list)[0])
	expect(exitFailed, "has no token", "tokens", "ben", "--off", strings.Fields(list)[0])
	expect(exitNone, "is closed", "off", "ben", "--why", "leaves")
	expect(exitFailed, "no user \"ben\"", "role", "ben", "read")
}

// A server that other machines can reach refuses to start without somebody who may manage, without encryption, and behind
// a proxy without a name, and says what to do.
func TestServeBeyondThisMachine(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "shelf.sqlite")
	refuses := func(words string, args ...string) {
		t.Helper()
		status, out, errText := runWith(t, "", append([]string{"serve", "--shelf", file}, args...)...)
		if status != exitFailed || !strings.Contains(errText, words) || strings.Contains(out, "Pages:") {
			t.Errorf("serve %s: status %d, wanted a refusal with %q:\n%s%s", strings.Join(args, " "), status, words, out, errText)
		}
	}
	cert, key := certificate(t, dir)
	for _, listen := range []string{"0.0.0.0:0", ":0", "[::]:0", "192.0.2.1:0", "quay.example:0"} {
		refuses("sixteen user add NAME --role manage", "--listen", listen)
		refuses("sixteen user add NAME --role manage", "--listen", listen, "--tls-cert", cert, "--tls-key", key)
	}
	refuses("sixteen user add NAME --role manage", "--listen", "127.0.0.1:0", "--behind-proxy", "--host", "quay.example")
	refuses("is no address", "--listen", "8016")
	if status, _, errText := runWith(t, "seven boats on a slip\n", "user", "--shelf", file, "add", "ada", "--role", "manage"); status != exitNone {
		t.Fatal(errText)
	}
	refuses("passwords would pass through the network", "--listen", "0.0.0.0:0")
	refuses("give both", "--listen", "0.0.0.0:0", "--tls-cert", cert)
	refuses("leave out --tls-cert", "--listen", "0.0.0.0:0", "--tls-cert", cert, "--tls-key", key, "--behind-proxy")
	refuses("with --host", "--listen", "127.0.0.1:0", "--behind-proxy")

	for name, args := range map[string][]string{
		"https://127.0.0.1:":    {"--listen", "127.0.0.1:0", "--tls-cert", cert, "--tls-key", key},
		"https://[::]:":         {"--listen", "0.0.0.0:0", "--tls-cert", cert, "--tls-key", key},
		"https://quay.example/": {"--listen", "127.0.0.1:0", "--behind-proxy", "--host", "quay.example"},
		"http://127.0.0.1:":     {"--listen", "127.0.0.1:0"},
	} {
		ctx, stop := context.WithTimeout(t.Context(), 1500*time.Millisecond)
		var o, e bytes.Buffer
		status := run(ctx, append([]string{"serve", "--shelf", file}, args...), streams{out: &o, err: &e})
		stop()
		if status != exitNone || !strings.Contains(o.String(), name) || !strings.Contains(o.String(), "users of the shelf sign in") {
			t.Errorf("serve %s: status %d, wanted %s:\n%s%s", strings.Join(args, " "), status, name, o.String(), e.String())
		}
	}
}

// certificate writes a certificate that signs itself, and its key.
func certificate(t *testing.T, dir string) (cert, key string) {
	t.Helper()
	private, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	template := &x509.Certificate{SerialNumber: big.NewInt(1), DNSNames: []string{"quay.example"}, NotAfter: time.Now().Add(time.Hour)}
	der, err := x509.CreateCertificate(rand.Reader, template, template, private.Public(), private)
	if err != nil {
		t.Fatal(err)
	}
	raw, err := x509.MarshalPKCS8PrivateKey(private)
	if err != nil {
		t.Fatal(err)
	}
	cert, key = filepath.Join(dir, "cert.pem"), filepath.Join(dir, "key.pem")
	for file, block := range map[string]*pem.Block{cert: {Type: "CERTIFICATE", Bytes: der}, key: {Type: "PRIVATE KEY", Bytes: raw}} {
		if err := os.WriteFile(file, pem.EncodeToMemory(block), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return cert, key
}
