// Package web is the web application on a shelf, and the judgement of one document as a file.
//
//	shelf.Shelf ─┐
//	judge.Desk  ─┼─► App ─ middleware (names, headers, guard) ─► routes (routes.go) ─► screen_*.go ─► view ─► pages/*.html
//	web.Guard   ─┘                                                                           └─► WriteFile (one file)
//
// A screen is one file: what is asked for, the value that its page shows, and the handler; its page is the file of the
// same name in pages. Pages are made on this side and need no script to be read, printed or sent; the script in assets
// adds small conveniences. Nothing is fetched from elsewhere. Who may do what is said by the role beside each route and
// enforced by the Guard; on loopback there is one person who may do everything.
package web
