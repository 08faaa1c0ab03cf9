//! Answers of the REST API, and its errors by their documented codes.

use axum::body::Body;
use axum::http::{HeaderValue, Response, StatusCode, header};
use serde_json::{Map, Value, json};

use super::record::Verdict;

/// An answer before the headers of the limits.
#[derive(Clone, Debug)]
pub(super) struct Reply {
    pub(super) status: u16,
    pub(super) body: Option<Value>,
}

impl Reply {
    pub(super) fn ok(body: Value) -> Self {
        Self {
            status: 200,
            body: Some(body),
        }
    }

    pub(super) fn nothing() -> Self {
        Self {
            status: 204,
            body: None,
        }
    }

    pub(super) fn error(status: u16, code: u32, message: &str) -> Self {
        Self {
            status,
            body: Some(json!({"code": code, "message": message})),
        }
    }

    pub(super) fn unauthorised() -> Self {
        Self::error(401, 0, "401: Unauthorized")
    }

    pub(super) fn not_found() -> Self {
        Self::error(404, 0, "404: Not Found")
    }

    pub(super) fn unknown_channel() -> Self {
        Self::error(404, 10_003, "Unknown Channel")
    }

    pub(super) fn unknown_message() -> Self {
        Self::error(404, 10_008, "Unknown Message")
    }

    pub(super) fn missing_access() -> Self {
        Self::error(403, 50_001, "Missing Access")
    }

    pub(super) fn missing_permission() -> Self {
        Self::error(403, 50_013, "Missing Permissions")
    }

    /// 50035, with the tree of what is wrong where.
    pub(super) fn invalid(verdicts: &[Verdict]) -> Self {
        let mut errors = Value::Object(Map::new());
        for verdict in verdicts {
            let mut node = &mut errors;
            for step in verdict.place.split('.').filter(|step| !step.is_empty()) {
                node = &mut node[step];
            }
            let said =
                json!({"code": format!("{:?}", verdict.judge).to_uppercase(), "message": verdict.said});
            match node["_errors"].as_array_mut() {
                Some(list) => list.push(said),
                None => node["_errors"] = json!([said]),
            }
        }
        Self {
            status: 400,
            body: Some(json!({"code": 50_035, "message": "Invalid Form Body", "errors": errors})),
        }
    }

    /// As it goes out.
    pub(super) fn response(self) -> Response<Body> {
        let status = StatusCode::from_u16(self.status).unwrap_or(StatusCode::INTERNAL_SERVER_ERROR);
        let mut response = match self.body {
            Some(body) => {
                let mut response = Response::new(Body::from(body.to_string()));
                let json = HeaderValue::from_static("application/json");
                response.headers_mut().insert(header::CONTENT_TYPE, json);
                response
            }
            None => Response::new(Body::empty()),
        };
        *response.status_mut() = status;
        response
    }
}
