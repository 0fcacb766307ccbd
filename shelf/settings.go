package shelf

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"

	"sixteen/ghs"
)

// Settings are what a workshop says about itself. Version is that of the settings as they were opened.
type Settings struct {
	Version      int64       `json:"version"`
	Workshop     string      `json:"workshop"`
	Address      string      `json:"address,omitempty"`
	CallWhom     string      `json:"call_whom,omitempty"`     // in an emergency, on bench cards
	PoisonCentre string      `json:"poison_centre,omitempty"` // its telephone number
	Spills       string      `json:"spills,omitempty"`        // where the material for spills is
	RuleSet      ghs.RuleSet `json:"rule_set,omitempty"`      // of the country; "" as each sheet appears to be written
	Languages    []ghs.Lang  `json:"languages,omitempty"`     // of labels and cards, the first one first
	ReviewMonths int         `json:"review_months"`           // how often a sheet is looked at again; 0 never
	Demo         bool        `json:"demo,omitempty"`          // the shelf holds the invented workshop
}

// usual are the settings of a new shelf: sheets are looked at again after 36 months (common practice; no law of the US or EU
// sets an interval).
func usual() Settings { return Settings{ReviewMonths: 36} }

// Settings reads the settings; those of a new shelf are the usual ones with Version 0.
func (s *Shelf) Settings(ctx context.Context) (Settings, error) { return settingsOf(ctx, s) }

func settingsOf(ctx context.Context, q asker) (Settings, error) {
	out := usual()
	var raw string
	err := q.row(ctx, "SELECT value FROM settings WHERE name = 'workshop'").Scan(&raw)
	if errors.Is(err, sql.ErrNoRows) {
		return out, nil
	}
	if err != nil {
		return out, err
	}
	out = Settings{}
	return out, json.Unmarshal([]byte(raw), &out)
}

// EditSettings keeps changed settings. It fails with *Conflict and *Invalid.
func (s *Shelf) EditSettings(ctx context.Context, by string, t Settings) (Settings, error) {
	if t.RuleSet != "" && !t.RuleSet.Known() {
		return t, &Invalid{What: "The rule set " + string(t.RuleSet) + " is not known.", Do: "Choose one of the rule sets this program knows, or none."}
	}
	if t.ReviewMonths < 0 || t.ReviewMonths > 1200 {
		return t, &Invalid{What: "The months between reviews are out of range.", Do: "Give a number from 1 to 1200, or 0 for never."}
	}
	given := t
	err := s.change(ctx, by, func(x *change) error {
		t = given
		old, err := settingsOf(ctx, x)
		if err != nil {
			return err
		}
		before, err := marshal(old)
		if err != nil {
			return err
		}
		if old.Version != t.Version {
			yours, err := marshal(t)
			return errors.Join(err, &Conflict{Kind: SettingsKind, Version: old.Version, By: "somebody else", At: x.now, Yours: yours, Theirs: before})
		}
		t.Version++
		after, err := marshal(t)
		if err != nil {
			return err
		}
		x.seq++
		if err := x.entry(ctx, Entry{Seq: x.seq, What: "changed", Kind: SettingsKind, Ref: "workshop", Title: "Settings", Before: before, After: after}); err != nil {
			return err
		}
		return x.exec(ctx, "INSERT INTO settings (name, value) VALUES ('workshop', ?) ON CONFLICT (name) DO UPDATE SET value = excluded.value", storable(string(after)))
	})
	return t, err
}
