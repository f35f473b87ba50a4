// Reads calendars by ical.js. Standard input: [text]. Standard output: [[event]].
import { readFileSync } from 'node:fs'
import ICAL from 'ical.js'

const when = (event, alarm) => {
  const at = event.startDate.clone()
  at.isDate = false
  at.addDuration(alarm.getFirstPropertyValue('trigger'))
  return at.toString()
}
const read = (text) => new ICAL.Component(ICAL.parse(text)).getAllSubcomponents('vevent').map((component) => {
  const event = new ICAL.Event(component, { strictExceptions: true })
  return {
    uid: event.uid, summary: event.summary, description: event.description, on: event.startDate.toString(),
    until: event.endDate.toString(), day: event.startDate.isDate, sequence: event.sequence,
    stamp: component.getFirstPropertyValue('dtstamp').toString(),
    alarms: component.getAllSubcomponents('valarm').map((alarm) => [when(event, alarm), alarm.getFirstPropertyValue('action'), alarm.getFirstPropertyValue('description')].join(' ')),
  }
})
process.stdout.write(JSON.stringify(JSON.parse(readFileSync(0, 'utf8')).map(read)))
