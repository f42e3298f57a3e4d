//! How a type of meanings is laid down, so that every slot of it can be reached.

/// Lays down a type of meanings, of which every slot can be reached. A number stands with its measure: `count: f64 => Times`.
macro_rules! meant {
    ($(#[$meta:meta])* pub enum $Name:ident {
        $(
            $(#[$about:meta])* $Variant:ident
            $({ $($(#[$of:meta])* $slot:ident: $Type:ty $(=> $measure:expr)?),* $(,)? })?
            $(($Inner:ty $(=> $inner_measure:expr)?))?
        ),* $(,)?
    }) => {
        $(#[$meta])*
        pub enum $Name {
            $($(#[$about])* $Variant $({ $($(#[$of])* $slot: $Type),* })? $(($Inner))?),*
        }

        impl $crate::order::alike::SlotValue for $Name {
            fn visit(&mut self, see: &mut dyn FnMut(&mut dyn $crate::order::alike::SingleValue)) {
                match self {
                    $(Self::$Variant $({ $($slot),* })? $(($crate::order::meant::of!($Inner, inner)))? => {
                        $($($crate::order::meant::visit!(see, $slot $(, $measure)?);)*)?
                        $($crate::order::meant::visit!(see, $crate::order::meant::of!($Inner, inner) $(, $inner_measure)?);)?
                    })*
                }
            }
        }

        #[cfg(test)]
        impl $Name {
            /// Each as it is declared, with a value in every slot.
            pub(crate) fn declared() -> Vec<Self> {
                use $crate::order::samples::Sample;
                vec![$(Self::$Variant
                    $({ $($slot: <$Type>::sample()),* })?
                    $((<$Inner>::sample()))?
                ),*]
            }
        }
    };
}

/// The name of what a variant has inside.
macro_rules! of {
    ($Inner:ty, $name:ident) => {
        $name
    };
}

/// Shows the values of one slot.
macro_rules! visit {
    ($see:ident, $slot:expr) => {
        $crate::order::alike::SlotValue::visit($slot, $see)
    };
    ($see:ident, $slot:expr, $measure:expr) => {
        $crate::order::measures::visit($slot, $measure, $see)
    };
}

pub(crate) use {meant, of, visit};
