//! Words that British and American knitters say differently, each as a term with a name of its own.
//! Common practice of both countries' patterns, no source.

use crate::text::variety::English;

impl English {
    const fn choose(
        self,
        neutral: &'static str,
        british: &'static str,
        american: &'static str,
    ) -> &'static str {
        match self {
            Self::AsWritten => neutral,
            Self::British => british,
            Self::American => american,
        }
    }

    /// Ending stitches, as an order: "bind off 4".
    pub const fn bind_off(self) -> &'static str {
        self.choose("bind off", "cast off", "bind off")
    }

    /// The same at the beginning of a sentence.
    pub const fn bind_off_capital(self) -> &'static str {
        self.choose("Bind off", "Cast off", "Bind off")
    }

    /// The same as what is being done: "before binding off".
    pub const fn binding_off(self) -> &'static str {
        self.choose("binding off", "casting off", "binding off")
    }

    /// The same at the beginning of a sentence.
    pub const fn binding_off_capital(self) -> &'static str {
        self.choose("Binding off", "Casting off", "Binding off")
    }

    /// The same as what was done: "4 stitches bound off".
    pub const fn bound_off(self) -> &'static str {
        self.choose("bound off", "cast off", "bound off")
    }

    /// The edge that is made so, or the making of it, as a noun.
    pub const fn bind_off_noun(self) -> &'static str {
        self.choose("bind-off", "cast-off", "bind-off")
    }

    /// A bind-off that is sewn.
    pub(crate) const fn sewn_bind_off(self) -> &'static str {
        self.choose("Sewn bind-off", "Sewn cast-off", "Sewn bind-off")
    }

    /// A bind-off that grafts knit stitches to purl stitches.
    pub(crate) const fn tubular_bind_off(self) -> &'static str {
        self.choose("Tubular bind-off", "Tubular cast-off", "Tubular bind-off")
    }

    /// A bind-off of two stitches worked together, over and over.
    pub(crate) const fn bind_off_of_two(self) -> &'static str {
        self.choose(
            "Two-together bind-off",
            "Two-together cast-off",
            "Two-together bind-off",
        )
    }

    /// A bind-off with a yarn over before each stitch.
    pub(crate) const fn bind_off_with_yarn_overs(self) -> &'static str {
        self.choose(
            "Yarn-over bind-off",
            "Yarn-over cast-off",
            "Yarn-over bind-off",
        )
    }

    /// The abbreviation before a number: "BO 64".
    pub const fn bind_off_short(self) -> &'static str {
        self.choose("BO", "cast off", "BO")
    }

    /// Stitches and rounds over a width and a height.
    pub const fn gauge(self) -> &'static str {
        self.choose("gauge", "tension", "gauge")
    }

    /// The same at the beginning of a sentence.
    pub const fn gauge_capital(self) -> &'static str {
        self.choose("Gauge", "Tension", "Gauge")
    }

    /// Fabric that is knit on its right side throughout.
    pub const fn stockinette(self) -> &'static str {
        self.choose("stockinette", "stocking stitch", "stockinette")
    }

    /// The same at the beginning of a sentence.
    pub const fn stockinette_capital(self) -> &'static str {
        self.choose("Stockinette", "Stocking stitch", "Stockinette")
    }

    /// Knit and purl by turns, offset in every round.
    pub const fn seed_stitch(self) -> &'static str {
        self.choose("seed stitch", "moss stitch", "seed stitch")
    }

    /// The same at the beginning of a sentence.
    pub const fn seed_stitch_capital(self) -> &'static str {
        self.choose("Seed stitch", "Moss stitch", "Seed stitch")
    }

    /// What a yarn is dyed in.
    pub const fn colour(self) -> &'static str {
        self.choose("colour", "colour", "color")
    }

    /// The same at the beginning of a sentence.
    pub const fn colour_capital(self) -> &'static str {
        self.choose("Colour", "Colour", "Color")
    }

    /// More than one of them.
    pub const fn colours(self) -> &'static str {
        self.choose("colours", "colours", "colors")
    }

    /// The same at the beginning of a sentence.
    pub const fn colours_capital(self) -> &'static str {
        self.choose("Colours", "Colours", "Colors")
    }

    /// The length of a yarn, one of them.
    pub const fn metre(self) -> &'static str {
        self.choose("metre", "metre", "meter")
    }

    /// More than one of them.
    pub const fn metres(self) -> &'static str {
        self.choose("metres", "metres", "meters")
    }

    /// The same at the beginning of a sentence.
    pub const fn metres_capital(self) -> &'static str {
        self.choose("Metres", "Metres", "Meters")
    }

    /// Yarn as it is bought and knitted from.
    pub const fn ball(self) -> &'static str {
        self.choose("ball", "ball", "skein")
    }

    /// The strip of paper round it, on which its figures are printed.
    pub const fn ball_band(self) -> &'static str {
        self.choose("ball band", "ball band", "label")
    }

    /// Between black and white.
    pub const fn grey(self) -> &'static str {
        self.choose("grey", "grey", "gray")
    }

    /// The same at the beginning of a sentence.
    pub const fn grey_capital(self) -> &'static str {
        self.choose("Grey", "Grey", "Gray")
    }
}
