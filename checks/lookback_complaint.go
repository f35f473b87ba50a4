package checks

import (
	"fmt"

	"footing/internal/practice"
	"footing/internal/quantity"
)

// ofComplaint answers backwards for the visits that a complaint is about. It judges nothing.
func (r *lookbackRun) ofComplaint() error {
	row, state := lookbackByID(r, r.P.Complaints, func(c *practice.Complaint) string { return practice.Key(&c.Row) })
	c, err := lookbackThe(r, row, state)
	if err != nil {
		return err
	}
	visits, which, err := r.complainedOf(c)
	if err != nil {
		return err
	}
	r.a.Asked.Words = fmt.Sprintf("complaint %s, received on %s", r.q.ID, c.ReceivedOn.Words())
	r.says("Complaint %s, received on %s, %s. Nothing here judges what happened.", r.q.ID, c.ReceivedOn.Words(), which)
	r.says("%s.%s", lookbackCapital(lookbackTyped(visits)), lookbackWhichSay(visits))
	if len(visits) == 0 {
		r.missing("The visits that it may be about: look into the diary and at the client's card.")
	}
	r.complaintSteps(c)
	r.backward(visits)
	r.copies(c, visits)
	return nil
}

// complainedOf are the visits that a complaint may be about, and which these are in
// words: the one it names, else those of its client in the time it is about, else all of
// them up to the day on which it was received.
func (r *lookbackRun) complainedOf(c *practice.Complaint) (visits []*practice.Visit, which string, err error) {
	if c.Visit != "" {
		v, state := r.P.Visit(c.Visit)
		if state == practice.One {
			which = fmt.Sprintf("about visit %s of %s", c.Visit, lookbackClient(v.Client))
			if c.Client != "" && c.Client != v.Client {
				which += fmt.Sprintf(" (its row names %s: look whether the visit or the client is typed wrong)", lookbackClient(c.Client))
			}
			return []*practice.Visit{v}, which, nil
		}
	}
	if c.Client == "" {
		return nil, "", r.refuse(practice.One, fmt.Sprintf("the complaint %s names no client, and no visit that stands once in the folder", r.q.ID), "write the client's pseudonym into its row, with about_from and about_until where the letter gives a time; then ask again")
	}
	r.q.Since, r.q.Until = c.AboutFrom, c.AboutUntil
	which = fmt.Sprintf("about %s, visits %s", lookbackClient(c.Client), r.timeWords())
	if !c.AboutUntil.Written() {
		r.q.Until = c.ReceivedOn
	}
	if !c.AboutFrom.Written() && !c.AboutUntil.Written() {
		which = fmt.Sprintf("about %s; which visits is not written, so all up to that day are here", lookbackClient(c.Client))
	}
	if c.Visit != "" {
		which += fmt.Sprintf(" (it names visit %s, which does not stand once in the folder)", c.Visit)
	}
	return r.visitsOf(c.Client), which, nil
}

func lookbackWhichSay(visits []*practice.Visit) string {
	if len(visits) > 1 {
		return " Each is listed; the record does not say which."
	}
	return ""
}

func (r *lookbackRun) complaintSteps(c *practice.Complaint) {
	r.now("Keep everything as it is: card, diary, labels, strips, data-logger files, this folder. Add to, correct or throw away nothing about these visits.")
	r.now("Tell %s today, and ask before you answer.", r.insurer())
	switch {
	case c.ClosedOn.Written():
		r.now("It is written as closed on %s. If it comes up again, send nothing more before your insurer has seen it.", c.ClosedOn.Words())
	case c.AnsweredOn.Written():
		r.now("It is written as answered on %s. Send nothing more before your insurer has seen it.", c.AnsweredOn.Words())
	case c.ReplyBy.Written() && c.ReplyBy < r.P.AsOf:
		r.now("A reply was asked for by %s, which has passed, and none is written: tell your insurer so first.", c.ReplyBy.Words())
	case c.ReplyBy.Written():
		r.now("A reply is asked for by %s: tell your insurer that date.", c.ReplyBy.Words())
	default:
		r.now("Find the reply date in the letter (none is typed), and tell your insurer that date.")
	}
	if c.Hold != quantity.IsYes {
		r.now("Mark the complaint and its records as to be kept until the complaint is closed (hold: yes in its row).")
	}
	r.now("If an infection or an injury is alleged, telephone %s and %s.", r.health(), r.regulator())
	r.now("Write down, with times, what you do from today on, apart from the card.")
	r.a.Decides = "Your regulator decides about the complaint; public health too, where an infection is alleged. Other clients appear below as counts only."
	r.limit("What was typed after the complaint was received is marked as a later copy: the paper is the record.")
}
