// Package api is the HTTP API of a shelf under /api: what the screens do, for programs.
//
//	request ─► web's middleware (names, headers, origin) ─► admit (Entrance: session or bearer token, role)
//	        ─► huma (limits, decoding, validation) ─► one operation ─► shelf.Shelf, web.App ─► JSON, a file, or a problem
//
// An operation is one call of register: its address, the role it needs, the types of its question and answer. The OpenAPI
// 3.1 document at /api/openapi.json is made from these calls; docs/openapi.json is a copy that a test keeps current.
// Errors are problem documents (RFC 9457) that say what to do. A record carries its version as ETag, and an edit names the
// version it was made on in If-Match (RFC 9110 §13.1.1), so that nobody overwrites what they have not seen.
package api
