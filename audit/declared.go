package audit

import "sixteen/ghs"

// Declared is what the sheet declares of the product: the classes of section 2, and the hazards that its H codes stand
// for. A code that stands for several categories counts as the mildest of them, except where the classes say more.
func (c *Case) Declared() ghs.HazardSet { return c.declares() }
