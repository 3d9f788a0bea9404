//! Choices without numbers of their own.

/// An enum of plain choices with the list of all of them, which cannot miss one.
macro_rules! choice {
    (
        $(#[$about_all:meta])*
        pub enum $name:ident { $($(#[$about:meta])* $one:ident,)+ }
    ) => {
        $(#[$about_all])*
        pub enum $name { $($(#[$about])* $one,)+ }

        impl $name {
            /// Every one of them.
            pub const ALL: [Self; [$(stringify!($one)),+].len()] = [$(Self::$one),+];
        }
    };
}
