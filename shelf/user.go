package shelf

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"database/sql"
	"encoding/base64"
	"encoding/hex"
	"errors"
	"fmt"
	"strings"
	"time"

	"golang.org/x/crypto/argon2"
)

// Role says what a user may do: each includes those before it.
type Role string

// Roles.
const (
	MayRead   Role = "read"
	MayWork   Role = "work"   // add sheets, correct, make papers
	MayManage Role = "manage" // users, settings, backups, taking things off the shelf
)

// Roles lists the roles, the least first.
func Roles() []Role { return []Role{MayRead, MayWork, MayManage} }

// Allows tells whether the role includes another.
func (r Role) Allows(needed Role) bool {
	at := func(r Role) int {
		for i, have := range Roles() {
			if have == r {
				return i
			}
		}
		return -1
	}
	return at(r) >= 0 && at(needed) >= 0 && at(r) >= at(needed)
}

// User is somebody with an account. The password is kept as an argon2id hash and never leaves the shelf.
type User struct {
	Record
	Name        string `json:"name"` // to log in with; letters, digits, ".", "-", "_"
	FullName    string `json:"full_name,omitempty"`
	Role        Role   `json:"role"`
	Preferences string `json:"preferences,omitempty"` // of the web pages, JSON

	password string
}

func (p *User) kind() Kind       { return UserKind }
func (p *User) table() string    { return "users" }
func (p *User) title() string    { return p.Name }
func (p *User) searched() string { return "" }
func (p *User) columns() []column {
	return []column{
		{"name", text{&p.Name}}, {"full_name", text{&p.FullName}}, {"role", words[Role]{&p.Role}}, {"password", text{&p.password}}, {"preferences", text{&p.Preferences}},
	}
}
func (p *User) check() error {
	p.Name = strings.ToLower(strings.TrimSpace(p.Name))
	if p.Name == "" || strings.Trim(p.Name, "abcdefghijklmnopqrstuvwxyz0123456789.-_") != "" || len(p.Name) > 64 {
		return &Invalid{What: fmt.Sprintf("%q cannot be a user's name.", p.Name), Do: "Use up to 64 letters a to z, digits, dots, hyphens and underscores."}
	}
	return oneOf("role", p.Role, Roles()...)
}

// argon2id parameters: 19 MiB, 2 passes, 1 lane (OWASP Password Storage Cheat Sheet; from memory). A hash carries its own.
const (
	hashPasses = 2
	hashKiB    = 19 * 1024
	hashLanes  = 1
	hashBytes  = 32
)

// hashed is a user's password as a PHC string. It fails with *Invalid for one that is easily guessed.
func hashed(name, password string) (string, error) {
	password = composed(password)
	if err := acceptable(name, password); err != nil {
		return "", err
	}
	salt := make([]byte, 16)
	rand.Read(salt)
	sum := argon2.IDKey([]byte(password), salt, hashPasses, hashKiB, hashLanes, hashBytes)
	enc := base64.RawStdEncoding
	return fmt.Sprintf("$argon2id$v=%d$m=%d,t=%d,p=%d$%s$%s", argon2.Version, hashKiB, hashPasses, hashLanes, enc.EncodeToString(salt), enc.EncodeToString(sum)), nil
}

// fits tells whether a password is that of a PHC string.
func fits(password, phc string) bool {
	if len(password) > 2*longestBytes {
		return false
	}
	password = composed(password)
	parts := strings.Split(phc, "$")
	if len(parts) != 6 || parts[1] != "argon2id" || len(password) > longestBytes {
		return false
	}
	var version, memory, passes, lanes int
	if _, err := fmt.Sscanf(parts[2], "v=%d", &version); err != nil || version != argon2.Version {
		return false
	}
	if _, err := fmt.Sscanf(parts[3], "m=%d,t=%d,p=%d", &memory, &passes, &lanes); err != nil || memory > 1<<20 || passes > 100 || lanes > 64 || memory < 8 || passes < 1 || lanes < 1 {
		return false
	}
	salt, err1 := base64.RawStdEncoding.DecodeString(parts[4])
	sum, err2 := base64.RawStdEncoding.DecodeString(parts[5])
	if err1 != nil || err2 != nil || len(sum) == 0 {
		return false
	}
	return subtle.ConstantTimeCompare(argon2.IDKey([]byte(password), salt, uint32(passes), uint32(memory), uint8(lanes), uint32(len(sum))), sum) == 1
}

// nobody is the hash that a login with an unknown name is compared with, so that it takes as long as one with a known name.
const nobody = "$argon2id$v=19$m=19456,t=2,p=1$AAAAAAAAAAAAAAAAAAAAAA$AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA"

// AddUser makes an account. It fails with *Invalid.
func (s *Shelf) AddUser(ctx context.Context, by string, u User, password string) (User, error) {
	hash, err := hashed(u.Name, password)
	if err != nil {
		return u, err
	}
	u.password = hash
	err = s.change(ctx, by, func(x *change) error {
		var n int
		if err := x.row(ctx, "SELECT COUNT(*) FROM users WHERE name = ?", strings.ToLower(strings.TrimSpace(u.Name))).Scan(&n); err != nil {
			return err
		}
		if n > 0 {
			return &Invalid{What: fmt.Sprintf("There is or was a user %q.", u.Name), Do: "Choose another name: names stay with what their users did."}
		}
		if u.Role != MayManage && x.anotherManages(ctx, "") != nil {
			return &Invalid{What: "Nobody may manage the shelf yet.", Do: "Let the first user be one who may manage: somebody has to open the other accounts."}
		}
		return x.insert(ctx, &u, "")
	})
	return u, err
}

// User is one user. It fails with ErrNotFound.
func (s *Shelf) User(ctx context.Context, id string) (User, error) { return load[User](ctx, s, id) }

// Users lists the users by name.
func (s *Shelf) Users(ctx context.Context) ([]User, error) {
	return loadAll[User](ctx, s, "WHERE t.retired = '' ORDER BY t.name")
}

// EditUser keeps a changed full name, role or preferences; the name stays. The last user who may manage keeps that role.
func (s *Shelf) EditUser(ctx context.Context, by string, u User) (User, error) {
	return edit(ctx, s, by, u, func(x *change, t, old *User) error {
		t.Name, t.password = old.Name, old.password
		if old.Role == MayManage && t.Role != MayManage {
			return x.anotherManages(ctx, t.ID)
		}
		return nil
	})
}

func (x *change) anotherManages(ctx context.Context, but string) error {
	var n int
	if err := x.row(ctx, "SELECT COUNT(*) FROM users WHERE role = 'manage' AND retired = '' AND id <> ?", but).Scan(&n); err != nil {
		return err
	}
	if n == 0 {
		return &Invalid{What: "Nobody else may manage the shelf.", Do: "Give somebody else the role first."}
	}
	return nil
}

// SetPassword gives a user another password and ends all sessions of theirs.
func (s *Shelf) SetPassword(ctx context.Context, by, id, password string) error {
	was, err := s.User(ctx, id)
	if err != nil {
		return err
	}
	hash, err := hashed(was.Name, password)
	if err != nil {
		return err
	}
	return s.change(ctx, by, func(x *change) error {
		old, err := load[User](ctx, x, id)
		if err != nil {
			return err
		}
		u := old
		u.password = hash
		if err := x.update(ctx, "password changed", &u, &old, ""); err != nil {
			return err
		}
		return x.exec(ctx, "DELETE FROM sessions WHERE user_id = ?", id)
	})
}

// RetireUser closes an account and ends its sessions; what the user did stays in the trail.
func (s *Shelf) RetireUser(ctx context.Context, by, id, why string) error {
	if strings.TrimSpace(why) == "" {
		return &Invalid{What: "There is no reason.", Do: "Say why the account is closed."}
	}
	return s.change(ctx, by, func(x *change) error {
		old, err := load[User](ctx, x, id)
		if err != nil {
			return err
		}
		if old.Role == MayManage {
			if err := x.anotherManages(ctx, id); err != nil {
				return err
			}
		}
		u := old
		u.Retired, u.RetiredWhy = x.now, why
		if err := x.update(ctx, "retired", &u, &old, ""); err != nil {
			return err
		}
		return x.exec(ctx, "DELETE FROM sessions WHERE user_id = ?", id)
	})
}

// Limits of logins and sessions.
const (
	failuresAllowed = 10               // with one name from one address within failureWindow, then every login of the two is refused
	failuresFrom    = 30               // from one address, whatever the names
	failuresWith    = 100              // with one name, wherever from: more than one address is guessing
	failureWindow   = 15 * time.Minute // counted by the clock of the shelf, whatever process counts
	sessionLength   = 30 * 24 * time.Hour
	sessionIdle     = 7 * 24 * time.Hour
)

// Session is a logged-in user. Token goes into the cookie; the shelf keeps its hash only.
type Session struct {
	Token   string
	User    User
	Begun   time.Time
	Expires time.Time
}

// Login opens a session. It fails with ErrRefused for a wrong name or password and says when there were too many wrong
// attempts; origin (the address of the caller) and agent are kept with the attempt.
func (s *Shelf) Login(ctx context.Context, name, password, origin, agent string) (Session, error) {
	name = strings.ToLower(strings.TrimSpace(name))
	users, err := loadAll[User](ctx, s, "WHERE t.name = ? AND t.retired = ''", name)
	if err != nil {
		return Session{}, err
	}
	known, counted := "", obscured(name)
	if len(users) == 1 {
		known, counted = name, name
	}
	if err := s.tooMany(ctx, counted, origin); err != nil {
		return Session{}, err
	}
	hash := nobody
	if len(users) == 1 {
		hash = users[0].password
	}
	good := fits(password, hash) && len(users) == 1
	out := Session{}
	err = s.change(ctx, firstNonEmpty(known, "nobody"), func(x *change) error {
		accepted := 0
		if good {
			accepted = 1
		}
		if err := x.exec(ctx, "INSERT INTO logins (seq, at, name, origin, accepted) SELECT COALESCE(MAX(seq), 0) + 1, ?, ?, ?, ? FROM logins", stamped(x.now), counted, storable(origin), accepted); err != nil {
			return err
		}
		if !good {
			return x.note(ctx, "login refused", SessionKind, "", known, origin)
		}
		out = Session{Token: rand.Text() + rand.Text(), User: users[0], Begun: x.now, Expires: x.now.Add(sessionLength)}
		if err := x.note(ctx, "logged in", SessionKind, users[0].ID, users[0].Name, origin); err != nil {
			return err
		}
		if err := x.exec(ctx, "DELETE FROM sessions WHERE expires < ?", stamped(x.now)); err != nil {
			return err
		}
		return x.exec(ctx, "INSERT INTO sessions (token, user_id, begun, seen, expires, agent) VALUES (?, ?, ?, ?, ?, ?)",
			tokenHash(out.Token), out.User.ID, stamped(x.now), stamped(x.now), stamped(out.Expires), storable(agent))
	})
	if err != nil {
		return Session{}, err
	}
	if !good {
		return Session{}, ErrRefused
	}
	return out, nil
}

// obscured stands for a name that is no user's in the list of attempts: it may be a password in the wrong field, so only
// enough of its hash is kept to count by.
func obscured(name string) string {
	sum := sha256.Sum256([]byte(name))
	return "?" + hex.EncodeToString(sum[:4])
}

// tooMany fails with ErrTooMany when there were too many wrong attempts lately. A login with success forgives the attempts
// with its name from its address. Attempts that lie further ahead than clocks of several machines may differ are from before
// the clock was put back, and do not count.
func (s *Shelf) tooMany(ctx context.Context, name, origin string) error {
	since, until := stamped(s.now().Add(-failureWindow)), stamped(s.now().Add(failureWindow))
	var both, from, with int
	for _, count := range []struct {
		n     *int
		where string
		args  []any
	}{
		{&both, "name = ? AND origin = ? AND seq > (SELECT COALESCE(MAX(seq), 0) FROM logins WHERE name = ? AND origin = ? AND accepted = 1)", []any{name, storable(origin), name, storable(origin)}},
		{&from, "origin = ?", []any{storable(origin)}},
		{&with, "name = ?", []any{name}},
	} {
		if err := s.row(ctx, "SELECT COUNT(*) FROM logins WHERE accepted = 0 AND at > ? AND at < ? AND "+count.where, append([]any{since, until}, count.args...)...).Scan(count.n); err != nil {
			return err
		}
	}
	wait := int(failureWindow.Minutes())
	switch {
	case both >= failuresAllowed:
		return fmt.Errorf("%w: too many wrong attempts with this name; wait %d minutes, or ask somebody who may manage the shelf for another password", ErrTooMany, wait)
	case from >= failuresFrom:
		return fmt.Errorf("%w: too many wrong attempts from this address; wait %d minutes", ErrTooMany, wait)
	case with >= failuresWith:
		return fmt.Errorf("%w: too many wrong attempts with this name from several addresses; wait %d minutes", ErrTooMany, wait)
	}
	return nil
}

func tokenHash(token string) string {
	sum := sha256.Sum256([]byte(token))
	return hex.EncodeToString(sum[:])
}

// SessionOf is the user of a token. It fails with ErrRefused for one that is unknown, expired, or was not used for a week.
func (s *Shelf) SessionOf(ctx context.Context, token string) (Session, error) {
	out := Session{Token: token}
	var user string
	var seen time.Time
	err := s.row(ctx, "SELECT user_id, begun, seen, expires FROM sessions WHERE token = ?", tokenHash(token)).Scan(&user, moment{&out.Begun}, moment{&seen}, moment{&out.Expires})
	if errors.Is(err, sql.ErrNoRows) {
		return Session{}, ErrRefused
	}
	if err != nil {
		return Session{}, err
	}
	now := s.now()
	if now.After(out.Expires) || now.Sub(seen) > sessionIdle {
		return Session{}, ErrRefused
	}
	if out.User, err = load[User](ctx, s, user); err != nil {
		return Session{}, err
	}
	if !out.User.Retired.IsZero() {
		return Session{}, ErrRefused
	}
	if now.Sub(seen) > time.Hour {
		if _, err := s.writer.ExecContext(ctx, s.dialect.bind("UPDATE sessions SET seen = ? WHERE token = ?"), stamped(now), tokenHash(token)); err != nil {
			return Session{}, err
		}
	}
	return out, nil
}

// Logout ends a session. Ending one that is over changes nothing.
func (s *Shelf) Logout(ctx context.Context, token string) error {
	_, err := s.writer.ExecContext(ctx, s.dialect.bind("DELETE FROM sessions WHERE token = ?"), tokenHash(token))
	return err
}

// LogoutEverywhere ends all sessions of a user. Tokens stay.
func (s *Shelf) LogoutEverywhere(ctx context.Context, by, user string) error {
	return s.change(ctx, by, func(x *change) error {
		u, err := load[User](ctx, x, user)
		if err != nil {
			return err
		}
		if err := x.note(ctx, "logged out everywhere", SessionKind, u.ID, u.Name, ""); err != nil {
			return err
		}
		return x.exec(ctx, "DELETE FROM sessions WHERE user_id = ?", user)
	})
}

// Refused writes into the trail that somebody was refused what their role does not allow.
func (s *Shelf) Refused(ctx context.Context, user User, what string) error {
	return s.change(ctx, user.Name, func(x *change) error { return x.note(ctx, "refused", SessionKind, user.ID, user.Name, what) })
}
