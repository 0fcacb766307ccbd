//go:build pin

// Package pin names modules that packages being written will import, so that go.mod holds them. It is never built.
package pin

import (
	_ "github.com/boombuler/barcode/qr"
	_ "github.com/danielgtaylor/huma/v2/adapters/humago"
	_ "github.com/gomutex/godocx"
	_ "github.com/jackc/pgx/v5/stdlib"
	_ "github.com/pdfcpu/pdfcpu/pkg/api"
	_ "github.com/riverqueue/river"
	_ "github.com/riverqueue/river/riverdriver/riverpgxv5"
	_ "github.com/riverqueue/river/riverdriver/riversqlite"
	_ "github.com/riverqueue/river/rivermigrate"
	_ "gocloud.dev/blob/fileblob"
	_ "gocloud.dev/blob/memblob"
	_ "gocloud.dev/blob/s3blob"
	_ "golang.org/x/crypto/argon2"
	_ "golang.org/x/time/rate"
	_ "modernc.org/sqlite"
)
