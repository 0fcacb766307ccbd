// Package sixteen is the root of the module; it holds no code. Start at docs/architecture.md.
package sixteen
