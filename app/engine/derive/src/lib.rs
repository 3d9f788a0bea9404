//! `#[derive(Document)]`: how a type of a recipe is written, taken from the type and from the attributes by
//! which serde reads and writes it. So no second list of a recipe's fields has to be kept.
//!
//! Used by the engine's recipe types only. Knows serde's attributes that these types have and refuses every
//! other one: a form that it does not understand is an error of compilation, not a wrong description.

use proc_macro2::TokenStream;
use quote::quote;
use syn::meta::ParseNestedMeta;
use syn::{
    Attribute, Data, DeriveInput, Error, Fields, FieldsNamed, Ident, LitStr, Result, Variant,
};

/// Implements the engine's `document_shape::Document`.
///
/// A struct is a group of its fields. An enum is a list of words, with serde's `tag` kinds with fields of
/// their own, else a word or exactly one field. `#[document(PatternSize)]` on a field says its shape where its
/// type does not.
///
/// `#[document(unusual)]` on a struct with a `Default` gives it `serialize_unusual`, which writes the fields that are
/// always there and of the others those that are not the default's.
#[proc_macro_derive(Document, attributes(document))]
pub fn derive_document(input: proc_macro::TokenStream) -> proc_macro::TokenStream {
    let shape = syn::parse(input).and_then(|input| implementation(&input));
    shape.unwrap_or_else(Error::into_compile_error).into()
}

fn implementation(input: &DeriveInput) -> Result<TokenStream> {
    let serde = Serde::of(&input.attrs)?;
    let shape = match &input.data {
        Data::Struct(data) => match &data.fields {
            Fields::Named(fields) => {
                let fields = group(fields)?;
                quote!(DocumentShape::Group(&[#(#fields),*]))
            }
            other => return Err(Error::new_spanned(other, "only named fields are known")),
        },
        Data::Enum(data) => choice(&data.variants.iter().collect::<Vec<_>>(), &serde)?,
        Data::Union(data) => {
            return Err(Error::new_spanned(
                data.union_token,
                "a union is not written",
            ));
        }
    };
    let name = &input.ident;
    let unusual = if input.attrs.iter().any(is_unusual) {
        serialize_unusual(input)?
    } else {
        TokenStream::new()
    };
    Ok(quote! {
        const _: () = {
            use crate::document_shape::{Document, Field, DocumentShape};

            impl Document for #name {
                const SHAPE: DocumentShape = #shape;
            }

            #unusual
        };
    })
}

fn is_unusual(attribute: &Attribute) -> bool {
    let named = |name: Ident| name == "unusual";
    attribute.path().is_ident("document") && attribute.parse_args().is_ok_and(named)
}

/// A method that writes a struct without what is its default's.
fn serialize_unusual(input: &DeriveInput) -> Result<TokenStream> {
    let Data::Struct(data) = &input.data else {
        return Err(Error::new_spanned(input, "only a struct has a default"));
    };
    let name = &input.ident;
    let (text, count) = (name.to_string(), data.fields.len());
    let write = |field: &syn::Field| {
        let is_always_there = !Serde::of(&field.attrs)?.has_default;
        let name = &field.ident;
        let text = field.ident.as_ref().map(Ident::to_string);
        Ok(quote! {
            if #is_always_there || self.#name != usual.#name {
                fields.serialize_field(#text, &self.#name)?;
            }
        })
    };
    let writes = data.fields.iter().map(write).collect::<Result<Vec<_>>>()?;
    Ok(quote! {
        impl #name {
            /// Writes it without what is the default's.
            pub(crate) fn serialize_unusual<S: serde::Serializer>(
                &self,
                to: S,
            ) -> Result<S::Ok, S::Error> {
                use serde::ser::SerializeStruct;

                let usual = Self::default();
                let mut fields = to.serialize_struct(#text, #count)?;
                #(#writes)*
                fields.end()
            }
        }
    })
}

/// What serde is told about a type, a variant or a field.
#[derive(Default)]
struct Serde {
    kebab_case: bool,
    tag: Option<LitStr>,
    rename: Option<LitStr>,
    has_default: bool,
}

impl Serde {
    fn of(attributes: &[Attribute]) -> Result<Self> {
        let mut serde = Self::default();
        for attribute in attributes {
            if attribute.path().is_ident("serde") {
                attribute.parse_nested_meta(|meta| serde.take(&meta))?;
            }
        }
        Ok(serde)
    }

    fn take(&mut self, meta: &ParseNestedMeta) -> Result<()> {
        let text = || meta.value()?.parse::<LitStr>();
        if meta.path.is_ident("rename_all") {
            if text()?.value() != "kebab-case" {
                return Err(meta.error("only kebab-case is known"));
            }
            self.kebab_case = true;
        } else if meta.path.is_ident("tag") {
            self.tag = Some(text()?);
        } else if meta.path.is_ident("rename") {
            self.rename = Some(text()?);
        } else if meta.path.is_ident("default") {
            self.has_default = true;
            if meta.input.peek(syn::Token![=]) {
                text()?;
            }
        } else if meta.path.is_ident("skip_serializing_if") {
            text()?;
        } else if !meta.path.is_ident("deny_unknown_fields") {
            return Err(meta.error("what this means for a document is not known"));
        }
        Ok(())
    }

    /// The name of a variant in a document.
    fn name(&self, variant: &Ident, all: &Self) -> String {
        match &self.rename {
            Some(name) => name.value(),
            None if all.kebab_case => kebab_case(&variant.to_string()),
            None => variant.to_string(),
        }
    }
}

fn kebab_case(name: &str) -> String {
    let mut kebab = String::new();
    for (place, letter) in name.chars().enumerate() {
        if letter.is_uppercase() && place > 0 {
            kebab.push('-');
        }
        kebab.extend(letter.to_lowercase());
    }
    kebab
}

/// The fields of a struct or of a variant.
fn group(fields: &FieldsNamed) -> Result<Vec<TokenStream>> {
    let field = |field: &syn::Field| {
        let serde = Serde::of(&field.attrs)?;
        if let Some(name) = serde.rename.or(serde.tag) {
            return Err(Error::new_spanned(
                name,
                "a field is written as it is named",
            ));
        }
        let name = field.ident.as_ref().map(Ident::to_string);
        let (kind, has_default) = (&field.ty, serde.has_default);
        let described = quote!(Field::of::<#kind>(#name, #has_default));
        let mut shapes = field.attrs.iter();
        Ok(
            match shapes.find(|shape| shape.path().is_ident("document")) {
                Some(shape) => {
                    let shape: Ident = shape.parse_args()?;
                    quote!(#described.written_as(DocumentShape::#shape))
                }
                None => described,
            },
        )
    };
    fields.named.iter().map(field).collect()
}

fn choice(variants: &[&Variant], all: &Serde) -> Result<TokenStream> {
    let mut words = Vec::new();
    let mut groups = Vec::new();
    let mut kinds = Vec::new();
    for variant in variants {
        let name = Serde::of(&variant.attrs)?.name(&variant.ident, all);
        match (&variant.fields, &all.tag) {
            (Fields::Unit, None) => words.push(name),
            (Fields::Unit, Some(_)) => kinds.push(quote!((#name, &[]))),
            (Fields::Named(fields), None) => {
                let fields = group(fields)?;
                groups.push(quote!(Field::needed(#name, DocumentShape::Group(&[#(#fields),*]))));
            }
            (Fields::Named(fields), Some(_)) => {
                let fields = group(fields)?;
                kinds.push(quote!((#name, &[#(#fields),*])));
            }
            (Fields::Unnamed(fields), None) if fields.unnamed.len() == 1 => {
                let kind = fields.unnamed.iter().map(|field| &field.ty);
                groups.push(quote!(Field::needed(#name, #(<#kind as Document>::SHAPE)*)));
            }
            (fields, _) => {
                return Err(Error::new_spanned(fields, "this form is not known"));
            }
        }
    }
    Ok(match &all.tag {
        Some(tag) => quote!(DocumentShape::Kinds { tag: #tag, kinds: &[#(#kinds),*] }),
        None if groups.is_empty() => quote!(DocumentShape::Words(&[#(#words),*])),
        None => quote!(DocumentShape::Either { words: &[#(#words),*], groups: &[#(#groups),*] }),
    })
}
