//! Writes every mutant of a file into it at once, each behind a switch.

use proc_macro2::{Span, TokenStream};
use quote::{ToTokens, quote};
use std::collections::{BTreeSet, HashMap};
use syn::spanned::Spanned;
use syn::visit_mut::{self, VisitMut};
use syn::{
    Attribute, BinOp, Block, Expr, ExprBinary, ExprMatch, ExprStruct, ExprUnary, File,
    GenericArgument, ImplItemFn, Item, ItemConst, ItemFn, ItemImpl, ItemMod, ItemStatic, Pat,
    PathArguments, ReturnType, Signature, Stmt, Type, UnOp, parse_quote,
};

/// One change.
#[derive(Clone)]
pub struct Mutant {
    pub id: usize,
    pub file: String,
    pub line: usize,
    pub function: String,
    pub what: String,
    /// In a function that has to stay `const`, where no switch can be asked.
    pub constant: bool,
    /// The same whatever lines are added before it.
    pub key: String,
}

impl Mutant {
    /// Where it is, for a person.
    pub fn place(&self) -> String {
        format!(
            "{}:{} {} in {}",
            self.file, self.line, self.what, self.function
        )
    }
}

pub struct Changer<'a> {
    pub file: String,
    pub found: &'a mut Vec<Mutant>,
    /// Those that did not compile.
    pub left_out: &'a BTreeSet<usize>,
    /// Functions that have to stay `const`.
    pub constants: &'a BTreeSet<String>,
    named: HashMap<String, usize>,
    within: Vec<String>,
    constant: bool,
}

fn tested_only(attrs: &[Attribute]) -> bool {
    attrs.iter().any(|a| {
        a.path().is_ident("test")
            || (a.path().is_ident("cfg") && a.meta.to_token_stream().to_string().contains("test"))
    })
}

fn text(t: &impl ToTokens) -> String {
    t.to_token_stream().to_string()
}

/// What a function might return instead, by its type.
fn instead(of: &Type) -> Vec<TokenStream> {
    match of {
        Type::Tuple(t) if t.elems.is_empty() => vec![quote!(())],
        Type::Tuple(t) => {
            let mut all = vec![quote!()];
            for e in &t.elems {
                let each = instead(e);
                all = all
                    .iter()
                    .flat_map(|a| each.iter().map(move |v| quote!(#a #v,)))
                    .collect();
            }
            all.iter().map(|a| quote!((#a))).collect()
        }
        Type::Path(p) => {
            let Some(last) = p.path.segments.last() else {
                return vec![];
            };
            let inner: Vec<&Type> = match &last.arguments {
                PathArguments::AngleBracketed(a) => a
                    .args
                    .iter()
                    .filter_map(|g| {
                        if let GenericArgument::Type(t) = g {
                            Some(t)
                        } else {
                            None
                        }
                    })
                    .collect(),
                _ => vec![],
            };
            match (last.ident.to_string().as_str(), inner.as_slice()) {
                ("f32" | "f64", _) => vec![quote!(0.0), quote!(1.0), quote!(-1.0)],
                ("bool", _) => vec![quote!(true), quote!(false)],
                ("u8" | "u16" | "u32" | "u64" | "usize", _) => vec![quote!(0), quote!(1)],
                ("i8" | "i16" | "i32" | "i64" | "isize", _) => {
                    vec![quote!(0), quote!(1), quote!(-1)]
                }
                ("Option", [t]) => std::iter::once(quote!(None))
                    .chain(instead(t).iter().map(|v| quote!(Some(#v))))
                    .collect(),
                ("Result", [t, ..]) => instead(t).iter().map(|v| quote!(Ok(#v))).collect(),
                ("Outcome", _) => vec![quote!(crate::verdict::Outcome::Pass)],
                // Does not compile where there is no default, and is then left out.
                _ => vec![quote!(Default::default())],
            }
        }
        Type::Reference(r) => match &*r.elem {
            Type::Slice(_) => vec![quote!(&[])],
            _ => vec![],
        },
        _ => vec![],
    }
}

impl<'a> Changer<'a> {
    pub fn new(
        file: String,
        found: &'a mut Vec<Mutant>,
        left_out: &'a BTreeSet<usize>,
        constants: &'a BTreeSet<String>,
    ) -> Self {
        Self {
            file,
            found,
            left_out,
            constants,
            named: HashMap::new(),
            within: vec![],
            constant: false,
        }
    }

    /// Numbers a change; none where it is left out.
    fn number(&mut self, at: Span, what: String) -> Option<usize> {
        let id = self.found.len() + 1;
        let at = at.start();
        let name = format!("{} {} {what}", self.file, self.within.join("::"));
        let before = self.named.entry(name.clone()).or_default();
        *before += 1;
        let key = format!("{name} {before}");
        self.found.push(Mutant {
            id,
            file: self.file.clone(),
            line: at.line,
            function: self.within.join("::"),
            what,
            constant: self.constant,
            key,
        });
        (!self.constant && !self.left_out.contains(&id)).then_some(id)
    }

    fn body(&mut self, sig: &mut Signature, block: &mut Block) {
        // `Celsius::new`, `row` or `armour::row`, as the compiler names it.
        let name = sig.ident.to_string();
        let of_type = self.within.last().map(|t| format!("{t}::{name}"));
        self.constant = self
            .constants
            .iter()
            .any(|c| match (&of_type, c.rsplit_once("::")) {
                // Of a function inside another one the compiler says its name alone.
                (_, None) => *c == name,
                (Some(own), _) => c == own,
                (None, Some((before, last))) => {
                    last == name && before.starts_with(char::is_lowercase)
                }
            });
        if !self.constant {
            sig.constness = None;
        }
        self.within.push(sig.ident.to_string());
        let at = sig.ident.span();
        let own = match block.stmts.as_slice() {
            [only] => Some(text(only)),
            _ => None,
        };
        visit_mut::visit_block_mut(self, block);
        let values = match &sig.output {
            ReturnType::Default => vec![quote!(())],
            ReturnType::Type(_, t) => instead(t),
        };
        for value in values {
            if own.as_deref() == Some(value.to_string().as_str()) {
                continue;
            }
            if let Some(id) = self.number(at, format!("return {value}")) {
                let statement: Stmt = parse_quote!(if crate::mutant::on(#id) { return #value; });
                block.stmts.insert(0, statement);
            }
        }
        self.within.pop();
        self.constant = false;
    }

    fn binary(&mut self, e: &mut ExprBinary) -> Option<Expr> {
        let at = e.op.span();
        if has_let(&e.left) || has_let(&e.right) {
            visit_mut::visit_expr_binary_mut(self, e);
            return None;
        }
        visit_mut::visit_expr_binary_mut(self, e);
        let (l, r) = (&e.left, &e.right);
        let was = text(&e.op);
        let others: &[&str] = match e.op {
            BinOp::Eq(_) => &["!="],
            BinOp::Ne(_) => &["=="],
            BinOp::And(_) => &["||"],
            BinOp::Or(_) => &["&&"],
            BinOp::Lt(_) => &["==", ">", "<="],
            BinOp::Gt(_) => &["==", "<", ">="],
            BinOp::Le(_) => &[">", "<"],
            BinOp::Ge(_) => &["<", ">"],
            BinOp::Add(_) => &["-", "*"],
            BinOp::Sub(_) => &["+", "/"],
            BinOp::Mul(_) => &["+", "/"],
            BinOp::Div(_) => &["%", "*"],
            BinOp::Rem(_) => &["/", "+"],
            BinOp::Shl(_) => &[">>"],
            BinOp::Shr(_) => &["<<"],
            BinOp::BitAnd(_) => &["|", "^"],
            BinOp::BitOr(_) => &["&", "^"],
            BinOp::BitXor(_) => &["&", "|"],
            BinOp::AddAssign(_) => &["-=", "*="],
            BinOp::SubAssign(_) => &["+=", "/="],
            BinOp::MulAssign(_) => &["+=", "/="],
            BinOp::DivAssign(_) => &["%=", "*="],
            BinOp::BitAndAssign(_) => &["|="],
            BinOp::BitOrAssign(_) => &["&="],
            _ => &[],
        };
        let compares = matches!(
            e.op,
            BinOp::Eq(_) | BinOp::Ne(_) | BinOp::Lt(_) | BinOp::Gt(_) | BinOp::Le(_) | BinOp::Ge(_)
        );
        let assigns = was.ends_with('=') && !compares;
        let short = matches!(e.op, BinOp::And(_) | BinOp::Or(_));
        let whole = if short || assigns {
            e.to_token_stream()
        } else {
            let op = &e.op;
            quote!(a #op b)
        };
        let mut branches = quote!();
        for other in others {
            let op: BinOp = syn::parse_str(other).expect("an operator");
            if let Some(id) = self.number(at, format!("{was} to {other}")) {
                let changed = if short || assigns {
                    quote!(#l #op #r)
                } else {
                    quote!(a #op b)
                };
                branches = quote!(#branches if crate::mutant::on(#id) { #changed } else);
            }
        }
        if branches.is_empty() {
            return None;
        }
        let chosen = quote!(#branches { #whole });
        Some(if assigns {
            parse_quote!({ #chosen })
        } else if short {
            parse_quote!((#chosen))
        } else if compares {
            // By reference, as a comparison takes them.
            parse_quote!((match (&(#l), &(#r)) { (a, b) => #chosen }))
        } else {
            parse_quote!((match (#l, #r) { (a, b) => #chosen }))
        })
    }

    fn unary(&mut self, e: &mut ExprUnary) -> Option<Expr> {
        let at = e.op.span();
        visit_mut::visit_expr_unary_mut(self, e);
        let was = match e.op {
            UnOp::Not(_) => "!",
            UnOp::Neg(_) => "-",
            _ => return None,
        };
        let id = self.number(at, format!("delete {was}"))?;
        let inner = &e.expr;
        Some(parse_quote!((if crate::mutant::on(#id) { #inner } else { #e })))
    }

    fn arms(&mut self, e: &mut ExprMatch) {
        // Where they are is lost when something within is changed.
        let spans: Vec<Span> = e
            .arms
            .iter()
            .map(|a| a.guard.as_ref().map_or(a.pat.span(), |(_, g)| g.span()))
            .collect();
        visit_mut::visit_expr_match_mut(self, e);
        let rest = e
            .arms
            .iter()
            .any(|a| matches!(a.pat, Pat::Wild(_)) && a.guard.is_none());
        for (arm, at) in e.arms.iter_mut().zip(spans) {
            let wild = matches!(arm.pat, Pat::Wild(_));
            let shown = text(&arm.pat);
            if let Some((if_, guard)) = arm.guard.take() {
                let mut g = *guard;
                if !has_let(&g) {
                    for to in [true, false] {
                        if let Some(id) = self.number(at, format!("guard to {to}")) {
                            g = if to {
                                parse_quote!((crate::mutant::on(#id) || (#g)))
                            } else {
                                parse_quote!((!crate::mutant::on(#id) && (#g)))
                            };
                        }
                    }
                }
                arm.guard = Some((if_, Box::new(g)));
            }
            // A guard that is false is an arm that is gone.
            if rest && !wild && arm.guard.is_none() {
                let at = arm.pat.span();
                if let Some(id) = self.number(at, format!("delete the arm {shown}")) {
                    arm.guard = Some((Default::default(), parse_quote!(!crate::mutant::on(#id))));
                }
            }
        }
    }

    /// Fields beside a `..base` are left to it.
    fn fields(&mut self, e: &mut ExprStruct) -> Option<Expr> {
        visit_mut::visit_expr_struct_mut(self, e);
        e.rest.as_ref()?;
        let mut branches = quote!();
        for n in 0..e.fields.len() {
            let mut without = e.clone();
            without.fields.clear();
            for (k, field) in e.fields.iter().enumerate() {
                if k != n {
                    without.fields.push(field.clone());
                    without.fields.push_punct(Default::default());
                }
            }
            let field = &e.fields[n];
            let what = format!("delete the field {}", text(&field.member));
            if let Some(id) = self.number(field.member.span(), what) {
                branches = quote!(#branches if crate::mutant::on(#id) { #without } else);
            }
        }
        if branches.is_empty() {
            return None;
        }
        Some(parse_quote!((#branches { #e })))
    }
}

fn has_let(e: &Expr) -> bool {
    match e {
        Expr::Let(_) => true,
        Expr::Binary(b) => has_let(&b.left) || has_let(&b.right),
        Expr::Paren(p) => has_let(&p.expr),
        _ => false,
    }
}

impl VisitMut for Changer<'_> {
    fn visit_expr_mut(&mut self, e: &mut Expr) {
        let changed = match e {
            Expr::Binary(b) => self.binary(b),
            Expr::Unary(u) => self.unary(u),
            Expr::Struct(s) => self.fields(s),
            Expr::Match(m) => {
                self.arms(m);
                None
            }
            _ => {
                visit_mut::visit_expr_mut(self, e);
                None
            }
        };
        if let Some(changed) = changed {
            *e = changed;
        }
    }

    fn visit_item_fn_mut(&mut self, f: &mut ItemFn) {
        if !tested_only(&f.attrs) {
            self.body(&mut f.sig, &mut f.block);
        }
    }

    fn visit_impl_item_fn_mut(&mut self, f: &mut ImplItemFn) {
        if !tested_only(&f.attrs) {
            self.body(&mut f.sig, &mut f.block);
        }
    }

    fn visit_item_impl_mut(&mut self, i: &mut ItemImpl) {
        let shown = i
            .trait_
            .as_ref()
            .map(|(_, p, _)| text(p))
            .unwrap_or_default();
        // How a thing is written decides nothing.
        if tested_only(&i.attrs) || shown.contains("Debug") || shown.contains("Display") {
            return;
        }
        self.within.push(text(&i.self_ty).replace(' ', ""));
        visit_mut::visit_item_impl_mut(self, i);
        self.within.pop();
    }

    fn visit_item_mod_mut(&mut self, m: &mut ItemMod) {
        if !tested_only(&m.attrs) {
            visit_mut::visit_item_mod_mut(self, m);
        }
    }

    // Made at compile time, where no switch can be asked.
    fn visit_item_const_mut(&mut self, _: &mut ItemConst) {}
    fn visit_item_static_mut(&mut self, _: &mut ItemStatic) {}
    fn visit_impl_item_const_mut(&mut self, _: &mut syn::ImplItemConst) {}
    fn visit_expr_const_mut(&mut self, _: &mut syn::ExprConst) {}
    fn visit_pat_mut(&mut self, _: &mut Pat) {}
    fn visit_type_mut(&mut self, _: &mut Type) {}
    fn visit_attribute_mut(&mut self, _: &mut Attribute) {}
    fn visit_expr_repeat_mut(&mut self, e: &mut syn::ExprRepeat) {
        self.visit_expr_mut(&mut e.expr);
    }
}

/// The switches themselves, added to the library.
pub fn switch(file: &mut File) {
    let switch: Item = parse_quote! {
        #[doc = "Which change is on; and, for the trace, which were come by."]
        pub mod mutant {
            extern crate std;
            use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering::Relaxed};
            use std::sync::OnceLock;
            use std::io::Write;
            const UNKNOWN: usize = usize::MAX;
            #[doc = "None is on; which are come by is kept."]
            pub const TRACED: usize = usize::MAX - 1;
            static ON: AtomicUsize = AtomicUsize::new(UNKNOWN);
            static FILE: OnceLock<Option<std::string::String>> = OnceLock::new();
            static SEEN: [AtomicBool; 20_000] = [const { AtomicBool::new(false) }; 20_000];
            #[doc = "Whether this one is on."]
            #[inline]
            pub fn on(id: usize) -> bool {
                let on = ON.load(Relaxed);
                on == id || (on >= TRACED && first(id))
            }
            #[cold]
            #[inline(never)]
            fn first(id: usize) -> bool {
                if ON.load(Relaxed) == TRACED {
                    if !SEEN[id].swap(true, Relaxed) {
                        if let Some(path) = FILE.get().and_then(|f| f.as_ref()) {
                            let mut f = std::fs::OpenOptions::new().append(true).create(true).open(path).unwrap();
                            let _ = f.write_all(std::format!("{id}\n").as_bytes());
                        }
                    }
                    return false;
                }
                let trace = FILE.get_or_init(|| std::env::var("MUTANT_TRACE").ok());
                turn(if trace.is_some() {
                    TRACED
                } else {
                    std::env::var("MUTANT").ok().and_then(|v| v.parse().ok()).unwrap_or(0)
                });
                on(id)
            }
            #[doc = "Turns one on."]
            pub fn turn(id: usize) {
                ON.store(id, Relaxed);
            }
            #[doc = "Which were come by since this was asked last."]
            pub fn seen() -> std::vec::Vec<usize> {
                (0..SEEN.len()).filter(|id| SEEN[*id].swap(false, Relaxed)).collect()
            }
        }
    };
    file.items.push(switch);
    file.attrs
        .push(parse_quote!(#![allow(warnings, clippy::all)]));
    // What the library refuses to itself, the switch needs.
    file.attrs.retain(|a| !text(a).contains("deny"));
}
