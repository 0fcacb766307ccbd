//go:build pin

// Package pin names modules that packages being written will import, so that go.mod holds them. It is never built.
package pin

import (
	_ "github.com/boombuler/barcode/qr"
	_ "github.com/danielgtaylor/huma/v2/adapters/humago"
	_ "github.com/gomutex/godocx"
	_ "github.com/pdfcpu/pdfcpu/pkg/api"
	_ "gocloud.dev/blob/memblob"
	_ "golang.org/x/time/rate"
)
