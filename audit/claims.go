package audit

import (
	"strings"
)

// documentClaims writes the claims into the page of checks.
func documentClaims(b *strings.Builder) {}
