package web

import (
	"net/http"

	"sixteen/audit"
	"sixteen/judge"
)

// claimsView is the text of an advertisement and what the papers say of it.
type claimsView struct {
	Head   productHead
	Text   string
	Result claimsResult
	Known  []audit.Claim
}

type claimsResult struct {
	Asked  bool
	Claims []claimView
}

type claimView struct {
	Verdict, Words, Text, Means, Support string
	Grave, Open                          bool
	Sides                                []sideView
}

func showClaims(a *App, v *visit) error {
	h, err := a.held(v.ctx(), v.r.PathValue("id"))
	if err != nil {
		return err
	}
	return a.show(v, http.StatusOK, screen{title: h.product.Name + ": claims", here: "shelf", name: "claims", value: claimsView{Head: h.head("/claims"), Known: audit.ClaimCatalogue()}})
}

// judgeClaims judges a text by the sheet.
func judgeClaims(a *App, v *visit) error {
	h, err := a.read(v.ctx(), v.r.PathValue("id"))
	if err != nil {
		return err
	}
	if err := v.r.ParseMultipartForm(maxFormBytes); err != nil && err != http.ErrNotMultipart {
		return tooLarge(err, maxFormBytes)
	}
	text := v.form("text")
	result := claimsResult{}
	if text != "" {
		j, err := a.shelf.Judge(v.ctx(), h.sheet.ID, judge.Request{Claims: []string{text}})
		if err != nil {
			return err
		}
		result = claimsOf(audit.JudgeClaims(j.Case()))
	}
	if v.part() {
		return a.showPart(v, "claimsresult", result)
	}
	return a.show(v, http.StatusOK, screen{title: h.product.Name + ": claims", here: "shelf", name: "claims", value: claimsView{Head: h.head("/claims"), Text: text, Result: result, Known: audit.ClaimCatalogue()}})
}

func claimsOf(all []audit.Claimed) claimsResult {
	out := claimsResult{Asked: true}
	m := newMarks()
	for _, c := range all {
		cv := claimView{Verdict: c.Verdict.String(), Words: c.Words, Text: c.Text, Means: c.Means, Support: c.Support,
			Grave: c.Verdict == audit.ClaimContradicted, Open: c.Verdict == audit.ClaimUnsupported || c.Verdict == audit.ClaimNeedsTest}
		for _, s := range c.Sides {
			side := sideOf(s, "claim", m)
			side.Where = nil // no page stands beside the text
			cv.Sides = append(cv.Sides, side)
		}
		out.Claims = append(out.Claims, cv)
	}
	return out
}
