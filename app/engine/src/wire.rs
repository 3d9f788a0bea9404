//! Versioned serde forms (being built): the plan endpoint's two documents.
/// One thing wrong with one field.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
pub struct FieldError { /// dotted path of the field
    pub field: String, /// what is wrong and the acceptable range
    pub message: String, /// what would help
    pub help: String }
/// Recipe JSON in, plan JSON out.
///
/// # Errors
/// Every field that is wrong, with its range.
pub fn plan_document(recipe_json: &str) -> Result<String, Vec<FieldError>> {
    Err(vec![FieldError { field: "recipe".into(), message: format!("{} bytes", recipe_json.len()), help: String::new() }])
}
