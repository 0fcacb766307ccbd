package shelf

import (
	"strconv"
	"strings"
)

// dialect is what differs between the two engines. All statements are written with ? as placeholder.
type dialect struct {
	name  string
	text  string // type of text that sorts by its bytes
	bytes string // type of bytes
	bound bool   // placeholders are $1, $2, …

	clustered string // ends a table that is kept in the order of its key
}

var (
	sqliteDialect   = dialect{name: "sqlite", text: "TEXT", bytes: "BLOB", clustered: " WITHOUT ROWID"}
	postgresDialect = dialect{name: "postgres", text: `TEXT COLLATE "C"`, bytes: "BYTEA", bound: true}
)

// bind writes a statement's placeholders as the engine wants them.
func (d dialect) bind(query string) string {
	if !d.bound {
		return query
	}
	var b strings.Builder
	n, quoted := 0, false
	for i := 0; i < len(query); i++ {
		switch c := query[i]; {
		case c == '\'':
			quoted = !quoted
			b.WriteByte(c)
		case c == '?' && !quoted:
			n++
			b.WriteString("$" + strconv.Itoa(n))
		default:
			b.WriteByte(c)
		}
	}
	return b.String()
}

// schema writes the types of a migration as the engine wants them.
func (d dialect) schema(script string) string {
	return strings.NewReplacer("@text", d.text, "@bytes", d.bytes, "@clustered", d.clustered).Replace(script)
}
