//! `/dilute`: what part changes do to a concentration, and how many it takes.

use wrackline_core::quantity::{Basis, Days, Kind, MilligramsPerLitre};
use wrackline_core::water::dilution::{
    self, Keeping, Longest, Made, Plan, changes_to, fraction_for, longest_interval, plan,
};

use super::said::{mg_l, percent, two};
use super::{Sheet, no};
use crate::chat::blocks::Answer;
use crate::desk::{Desk, Refused};
use crate::lines::ask::Dilute;
use crate::msg;
use crate::words::Message;

/// The parts that are shown beside each other.
const PARTS: [f64; 3] = [0.1, 0.25, 0.5];

/// The most rows that a plan is shown with.
const ROWS_MAX: usize = 14;

/// More changes than this are no plan that anybody keeps: common practice, no published source.
pub(super) const CHANGES_MAX: usize = 100;

/// The numbers of the question.
#[derive(Clone, Copy)]
struct Numbers {
    start: MilligramsPerLitre,
    target: MilligramsPerLitre,
    source: MilligramsPerLitre,
}

/// `/dilute`
///
/// # Errors
/// One sentence about what changes cannot do.
pub(in crate::desk) fn dilute(desk: &Desk<'_>, ask: &Dilute) -> Result<Answer, Refused> {
    let numbers = Numbers {
        start: MilligramsPerLitre(ask.start),
        target: MilligramsPerLitre(ask.target),
        source: MilligramsPerLitre(ask.source.unwrap_or(0.0)),
    };
    let mut sheet = match (ask.adds, ask.removes) {
        (None, None) => bring(desk, ask, numbers)?,
        _ => keep(desk, ask, numbers)?,
    };
    if ask.source.is_none() {
        sheet.text(&msg!("dilute-source-none"));
    }
    sheet.text(&msg!("dilute-each"));
    match ask.substance {
        Some(Kind::Nitrate) if ask.basis == Some(Basis::Nitrogen) => sheet.text(&msg!("dilute-nitrate-n")),
        Some(Kind::Nitrate) => sheet.text(&msg!("dilute-nitrate")),
        Some(_) => sheet.text(&msg!("dilute-ammonia")),
        None => {}
    }
    if ask.basis == Some(Basis::Nitrogen) {
        sheet.text(&msg!("dilute-as-n"));
    }
    sheet.text(&msg!("dilute-rests"));
    Ok(sheet.answer)
}

/// From one value to another.
fn bring<'d, 'a>(desk: &'d Desk<'a>, ask: &Dilute, of: Numbers) -> Result<Sheet<'d, 'a>, Refused> {
    let no = |problem: dilution::Problem| no::dilution(&problem);
    let apart = Days(ask.every.unwrap_or(1.0));
    let Some(part) = ask.change else {
        // Without a part, the one change that does it comes first.
        let count = changes_to(of.start, of.target, of.source, 1.0).map_err(no)?;
        let title = if count == 0 {
            msg!("dilute-nothing", target = mg_l(of.target.0))
        } else {
            let part = fraction_for(of.start, of.target, of.source).map_err(no)?;
            msg!(
                "dilute-one",
                part = percent(part),
                start = two(of.start.0),
                target = mg_l(of.target.0)
            )
        };
        let mut sheet = Sheet::new(desk, &title);
        others(&mut sheet, of, None);
        return Ok(sheet);
    };
    let plan = plan(of.start, of.target, of.source, part, apart).map_err(no)?;
    if plan.changes.len() > CHANGES_MAX {
        return Err(no(dilution::Problem::TooMany {
            needed: plan.changes.len() as f64,
        }));
    }
    let title = if plan.changes.is_empty() {
        msg!("dilute-nothing", target = mg_l(of.target.0))
    } else {
        msg!(
            "dilute-plan",
            count = plan.changes.len(),
            part = percent(part),
            apart = desk.say(&apart_of(apart)),
            start = two(of.start.0),
            target = mg_l(of.target.0),
            end = mg_l(plan.end.0)
        )
    };
    let mut sheet = Sheet::new(desk, &title);
    days(&mut sheet, &plan);
    others(&mut sheet, of, Some(part));
    sheet.text(&msg!("dilute-meanwhile"));
    Ok(sheet)
}

/// How far changes lie apart: "a day", "2 days", "12 hours".
fn apart_of(apart: Days) -> Message {
    if apart.0 < 1.0 {
        msg!("dilute-apart-hours", hours = (apart.0 * 24.0).round())
    } else {
        msg!("dilute-apart-days", days = apart.0)
    }
}

/// A row for each change; of very many the first ones and the last.
fn days(sheet: &mut Sheet<'_, '_>, plan: &Plan) {
    let count = plan.changes.len();
    let mut rows = Vec::new();
    for (at, change) in plan.changes.iter().enumerate() {
        if count > ROWS_MAX && at >= ROWS_MAX - 2 && at + 1 < count {
            if at + 2 == count {
                rows.push(vec!["…".to_owned(); 3]);
            }
            continue;
        }
        rows.push(vec![
            change.number.to_string(),
            two(change.day.0 + 1.0),
            two(change.after.0),
        ]);
    }
    if !rows.is_empty() {
        sheet.table(
            &["dilute-head-change", "dilute-head-day", "dilute-head-after"],
            rows,
        );
    }
}

/// The same by other parts, and by one change alone.
fn others(sheet: &mut Sheet<'_, '_>, of: Numbers, said: Option<f64>) {
    let mut rows = Vec::new();
    let row = |part: f64| {
        let plan = plan(of.start, of.target, of.source, part, Days(1.0)).ok()?;
        let (count, volumes) = (plan.changes.len(), plan.volumes);
        (1..=CHANGES_MAX)
            .contains(&count)
            .then(|| vec![percent(part), count.to_string(), two(plan.end.0), two(volumes)])
    };
    let parts = PARTS
        .iter()
        .copied()
        .filter(|part| said.is_none_or(|own| own != *part));
    rows.extend(parts.filter_map(row));
    rows.extend(
        fraction_for(of.start, of.target, of.source)
            .ok()
            .map(|part| vec![percent(part), "1".to_owned(), two(of.target.0), two(part)]),
    );
    if !rows.is_empty() {
        sheet.text(&msg!("dilute-or"));
        sheet.table(
            &[
                "dilute-head-part",
                "dilute-head-count",
                "dilute-head-end",
                "dilute-head-volumes",
            ],
            rows,
        );
    }
}

/// Under a limit, while something is added every day.
fn keep<'d, 'a>(desk: &'d Desk<'a>, ask: &Dilute, of: Numbers) -> Result<Sheet<'d, 'a>, Refused> {
    let no = |problem: dilution::Problem| no::dilution(&problem);
    let (adds, removal) = (ask.adds.unwrap_or(0.0), ask.removes.unwrap_or(0.0));
    let made = Made {
        per_day: MilligramsPerLitre(adds),
        removal,
    };
    let part = ask.change.unwrap_or(PARTS[1]);
    let longest = longest_interval(of.target, of.source, part, made).map_err(no)?;
    let every = match (ask.every, longest) {
        (Some(days), _) => days,
        (None, Longest::Days { whole, exact }) => {
            if whole > 0 {
                f64::from(whole)
            } else {
                exact.0
            }
        }
        (None, Longest::Any) => 7.0,
    };
    let keeping = Keeping::new(of.source, part, Days(every), made).map_err(no)?;
    let steady = keeping.steady();
    let over = steady.peak.0 > of.target.0 * (1.0 + 1e-9);
    let id = match (longest, over) {
        (Longest::Any, _) => "dilute-keep-any",
        (Longest::Days { .. }, true) => "dilute-keep-over",
        (Longest::Days { whole: 0, .. }, false) => "dilute-keep-oftener",
        (Longest::Days { .. }, false) => "dilute-keep",
    };
    let most = match longest {
        Longest::Days { exact, .. } => two((exact.0 * 100.0).floor() / 100.0),
        Longest::Any => String::new(),
    };
    let title = msg!(
        id,
        part = percent(part),
        every = desk.say(&apart_of(Days(every))),
        limit = mg_l(of.target.0),
        trough = two(steady.trough.0),
        peak = mg_l(steady.peak.0),
        most = most
    );
    let mut sheet = Sheet::new(desk, &title);
    on_the_way(&mut sheet, of, made, &keeping, part)?;
    let mut parts: Vec<f64> = PARTS.to_vec();
    if !parts.contains(&part) {
        parts.push(part);
        parts.sort_by(f64::total_cmp);
    }
    let rows = parts
        .into_iter()
        .filter_map(|part| interval_row(desk, of, part, made))
        .collect();
    sheet.table(
        &["dilute-head-part", "dilute-head-longest", "dilute-head-settles"],
        rows,
    );
    Ok(sheet)
}

/// The longest interval of a part, in whole days, and between what it settles then.
fn interval_row(desk: &Desk<'_>, of: Numbers, part: f64, made: Made) -> Option<Vec<String>> {
    let longest = longest_interval(of.target, of.source, part, made).ok()?;
    let (days, told) = match longest {
        Longest::Any => return Some(vec![percent(part), desk.tell.word("dilute-any"), "–".to_owned()]),
        Longest::Days { whole: 0, exact } => (exact.0, two((exact.0 * 100.0).floor() / 100.0)),
        Longest::Days { whole, .. } => (f64::from(whole), whole.to_string()),
    };
    let settled = Keeping::new(of.source, part, Days(days), made)
        .ok()
        .map(|keeping| {
            let steady = keeping.steady();
            format!("{}–{}", two(steady.trough.0), two(steady.peak.0))
        });
    Some(vec![
        percent(part),
        told,
        settled.unwrap_or_else(|| "–".to_owned()),
    ])
}

/// What happens before it settles.
fn on_the_way(
    sheet: &mut Sheet<'_, '_>,
    of: Numbers,
    made: Made,
    keeping: &Keeping,
    part: f64,
) -> Result<(), Refused> {
    let no = |problem: dilution::Problem| no::dilution(&problem);
    let way = keeping.transient(of.start, of.target).map_err(no)?;
    sheet.text(&msg!(
        "dilute-transient",
        start = mg_l(of.start.0),
        first = mg_l(way.first_peak.0),
        highest = mg_l(way.highest.0)
    ));
    if of.start.0 > of.target.0 {
        let count = changes_to(of.start, of.target, of.source, part).map_err(no)?;
        sheet.text(&msg!(
            "dilute-first",
            count = count,
            part = percent(part),
            limit = mg_l(of.target.0)
        ));
    } else if let Some(days) = dilution::days_until(of.start, of.target, made).map_err(no)? {
        sheet.text(&msg!(
            "dilute-until",
            limit = mg_l(of.target.0),
            days = two(days.0)
        ));
    }
    Ok(())
}
