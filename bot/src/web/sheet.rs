//! A handover sheet as a page of the porch, made to be printed.

use axum::Extension;
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Response};
use serde::Deserialize;
use serde_json::Value;

use super::WebState;
use super::door::Session;
use super::page::{escape, fill};
use super::refusal::unwell;
use crate::chat::blocks::Block;
use crate::chat::paper::{Paper, Room, Section};
use crate::house::SheetPage;

const SHEET: &str = include_str!("assets/sheet.html");

/// From so many bytes of a page on its print is small: what two sides of A4 hold at the usual size, tried in a browser.
const DENSE_FROM: usize = 21_000;

/// The days in the address.
#[derive(Deserialize)]
pub(super) struct Days {
    from: Option<String>,
    to: Option<String>,
}

/// `GET /sheet/{carer}?from=&to=`
pub(super) async fn sheet(
    State(state): State<WebState>,
    Extension(session): Extension<Session>,
    Path(carer): Path<u32>,
    Query(days): Query<Days>,
) -> Response {
    let page = SheetPage {
        carer,
        from: days.from,
        to: days.to,
    };
    let words = state.house.words();
    match state.house.sheet(session.place, session.carer, page).await {
        Err(error) => unwell(&state, &error),
        Ok(Ok(paper)) => Html(html(&paper, &words)).into_response(),
        Ok(Err(sentence)) => {
            let paper = Paper {
                title: sentence,
                ..Paper::default()
            };
            (StatusCode::NOT_FOUND, Html(html(&paper, &words))).into_response()
        }
    }
}

/// A paper as a page. Every text in it is escaped.
pub(super) fn html(paper: &Paper, words: &Value) -> String {
    let mut body = String::new();
    element("h1", "", &paper.title, &mut body);
    for line in &paper.lead {
        element("p", " class=\"lead\"", line, &mut body);
    }
    let wide = |section: &&Section| section.room == Room::Wide;
    paper
        .sections
        .iter()
        .filter(wide)
        .for_each(|one| part(one, &mut body));
    body += "<div class=\"columns\">\n";
    let narrow = |section: &&Section| section.room == Room::Columns;
    paper
        .sections
        .iter()
        .filter(narrow)
        .for_each(|one| part(one, &mut body));
    body += "</div>\n";
    let (before, after) = SHEET.split_once("{{body}}").unwrap_or((SHEET, ""));
    let before = fill(before, words);
    // Long papers are set smaller, so that they stay on one leaf.
    let before = if body.len() > DENSE_FROM {
        before.replace("<main>", "<main class=\"dense\">")
    } else {
        before
    };
    format!("{before}{body}{}", fill(after, words))
}

fn part(section: &Section, into: &mut String) {
    *into += "<section>\n";
    element("h2", "", &section.heading, into);
    let mut is_open = false;
    for one in &section.blocks {
        // What belongs under one title is kept together on paper.
        if matches!(one, Block::Title { .. }) {
            if is_open {
                *into += "</article>\n";
            }
            *into += "<article>\n";
            is_open = true;
        }
        block(one, into);
    }
    if is_open {
        *into += "</article>\n";
    }
    *into += "</section>\n";
}

fn block(block: &Block, into: &mut String) {
    match block {
        Block::Title { text } => element("h3", "", text, into),
        Block::Text { text } => element("p", "", text, into),
        Block::Caution { text } => element("p", " class=\"caution\"", text, into),
        Block::Items { items } => {
            *into += "<ul>\n";
            items.iter().for_each(|item| element("li", "", &item.text, into));
            *into += "</ul>\n";
        }
        Block::Table { head, rows } => table(head, rows, into),
        // Nobody is called by a paper, and nothing on it is pressed.
        Block::For { .. } | Block::Photo { .. } | Block::Answers { .. } => {}
    }
}

fn table(head: &[String], rows: &[Vec<String>], into: &mut String) {
    *into += "<table>\n<thead><tr>";
    head.iter()
        .for_each(|text| element("th", " scope=\"col\"", text, into));
    *into += "</tr></thead>\n<tbody>\n";
    for row in rows {
        *into += "<tr>";
        for (column, text) in row.iter().enumerate() {
            if column == 0 {
                element("th", " scope=\"row\"", text, into);
            } else {
                element("td", "", text, into);
            }
        }
        *into += "</tr>\n";
    }
    *into += "</tbody>\n</table>\n";
}

/// An element with a text in it.
fn element(name: &str, attributes: &str, text: &str, into: &mut String) {
    *into += &format!("<{name}{attributes}>");
    escape(text, into);
    *into += &format!("</{name}>\n");
}
