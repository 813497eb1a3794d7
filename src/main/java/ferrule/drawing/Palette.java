package ferrule.drawing;

import java.util.EnumMap;
import java.util.Map;

/**
 * The colours of a picture: for each material a ramp of {@link Tones#COUNT} tones from dark to light, and the inks.
 *
 * <p>A page takes the colours from the style sheet that {@link #stylesheet} makes, because a page's security policy
 * forbids styles inside it. There every colour is a CSS custom property with these values as fallbacks, so that a theme
 * can change them:
 * {@code --ferrule-ink} (outlines), {@code --ferrule-paper} (the fill of line style), {@code --ferrule-void}
 * (openings), {@code --ferrule-<material>-<tone>} and {@code --ferrule-lit-<tone>}.
 */
final class Palette {

  private static final String INK = "#2a1f14";
  private static final String PAPER = "#ffffff";
  private static final String VOID = "#211910";

  private static final Map<Material, String[]> KEYS = new EnumMap<>(Material.class);
  private static final Map<Finish, String[]> BODY = new EnumMap<>(Finish.class);
  private static final String[] LIT = {"#0a1f52", "#123a94", "#1f5fd6", "#4f93f5", "#9cc6ff", "#e6f2ff"};
  private static final String[] DIM = {"#b9b5ae", "#c9c5bf", "#d6d3ce", "#e1dfdb", "#eceae7", "#f6f5f3"};
  private static final String[] DIM_ON_DARK = {"#2c2721", "#332d27", "#3b352e", "#443d36", "#4d463e", "#575047"};
  private static final String DARK_PAGE_INK = "#a39a8c";
  private static final String[][] VALUE = {
    {"#8a8a84", "#a9a9a2", "#c6c6bf", "#dcdcd6", "#ebebe6", "#f8f8f5"},
    {"#5f7f86", "#7ea1a8", "#9fc1c6", "#bddade", "#d8ecee", "#f1fafb"},
    {"#2f6f80", "#4b93a5", "#71b3c3", "#9ccfdb", "#c6e6ed", "#ebf8fb"},
    {"#0f5669", "#1f7a92", "#3f9cb6", "#73bdd2", "#acdcea", "#e2f5fa"},
    {"#06323f", "#0d5468", "#177791", "#3f9ab5", "#83c4d8", "#d2eef6"}
  };

  static {
    BODY.put(Finish.BRASS, new String[] {"#64400f", "#966718", "#c08e2b", "#dcb04a", "#f0d688", "#fff6da"});
    BODY.put(Finish.SILVER, new String[] {"#434a52", "#727b85", "#9fa8b1", "#c3cad1", "#e0e5ea", "#fdfeff"});
    BODY.put(Finish.RAW, new String[] {"#4a3418", "#7c5c2a", "#a37f41", "#bd9d60", "#d2b985", "#eaddb8"});
    KEYS.put(Material.NICKEL, new String[] {"#4b4a44", "#7b7a72", "#a7a69d", "#c9c8c0", "#e3e2dc", "#fdfdfa"});
    KEYS.put(Material.STEEL, new String[] {"#2f3337", "#555b61", "#80878e", "#a9b0b6", "#cfd4d8", "#f6f8f9"});
    KEYS.put(Material.FELT, new String[] {"#571c22", "#7a2931", "#983842", "#ad4b55", "#bf636c", "#d08089"});
    KEYS.put(Material.CORK, new String[] {"#5e3d22", "#84592f", "#a5743f", "#bd8d55", "#d0a674", "#e2c199"});
    KEYS.put(Material.PLASTIC, new String[] {"#77756c", "#a3a196", "#c5c3b7", "#dcdacf", "#ebe9e0", "#faf9f4"});
    KEYS.put(Material.PEARL, new String[] {"#9a9fa3", "#c0c4c6", "#d9dbdb", "#e9e9e8", "#f4f4f2", "#ffffff"});
    KEYS.put(Material.VOID, new String[] {VOID, VOID, VOID, VOID, VOID, VOID});
    KEYS.put(Material.AIR, new String[] {"#2d6c86", "#4a8fa9", "#74b2c8", "#9fcfdf", "#c8e6ef", "#eef9fc"});
  }

  private final Finish finish;

  Palette(Finish finish) {
    this.finish = finish;
  }

  private String[] keys(Material material) {
    return material == Material.BODY ? BODY.get(finish) : KEYS.get(material);
  }

  /** The colour of a material's tone. */
  String tone(Material material, int tone) {
    return ramp(keys(material), tone);
  }

  /** The colour of a lit part's tone. */
  String lit(int tone) {
    return ramp(LIT, tone);
  }

  /** The colour of a dimmed part's tone. */
  String dimmed(int tone) {
    return ramp(DIM, tone);
  }

  /** The colour of a tone of a part coloured by a step of the scale. */
  String value(int step, int tone) {
    return ramp(VALUE[step], tone);
  }

  private static String ramp(String[] keys, int tone) {
    double at = (double) tone / (Tones.COUNT - 1) * (keys.length - 1);
    int low = Math.min(keys.length - 2, (int) at);
    return blend(keys[low], keys[low + 1], at - low);
  }

  private static String blend(String a, String b, double share) {
    int from = Integer.parseInt(a.substring(1), 16);
    int to = Integer.parseInt(b.substring(1), 16);
    int mixed = 0;
    for (int shift = 16; shift >= 0; shift -= 8) {
      int x = from >> shift & 255;
      int y = to >> shift & 255;
      mixed |= (int) Math.round(x + (y - x) * share) << shift;
    }
    return String.format("#%06x", mixed);
  }

  /**
   * The style sheet for pages that hold pictures, {@code static/drawing-colours.css}: the rules of both styles, all
   * finishes and all materials.
   */
  static String stylesheet() {
    StringBuilder css = new StringBuilder("/* Made from the palette of the drawings: see PaletteTest. */\n");
    inks(css);
    for (int k = 0; k < Tones.COUNT; k++) {
      css.append(".fd.metal .k").append(k).append("{fill:var(--k").append(k).append(")}\n");
    }
    KEYS.forEach((material, keys) -> rampRule(css, ".fd.metal .m-" + material.key(), material.key(), keys));
    BODY.forEach((finish, keys) -> rampRule(css, ".fd.metal." + finish.key() + " .m-body", finish.key(), keys));
    rampRule(css, ".fd.metal .part.lit", "lit", LIT);
    rampRule(css, ".fd.metal .part.dim", "dim", DIM);
    for (int step = 0; step < Mark.Value.STEPS; step++) {
      rampRule(css, ".fd.metal .part.v" + step, "value-" + step, VALUE[step]);
    }
    // on a dark page what is dimmed goes toward the dark, not toward white
    css.append("@media (prefers-color-scheme:dark){.fd{--ferrule-dim-ink:").append(DARK_PAGE_INK)
        .append(";--ferrule-dim-void:").append(DIM_ON_DARK[0]).append("}\n");
    rampRule(css, ".fd.metal .part.dim", "dim", DIM_ON_DARK);
    return css.append("}\n").toString();
  }

  private static void inks(StringBuilder css) {
    String line = "stroke:var(--ferrule-ink," + INK + ");stroke-linejoin:round;stroke-linecap:round}\n";
    css.append(".fd .o,.fd .c,.fd .tr{fill:none;").append(line)
        .append(".fd .o{stroke-width:9}\n.fd.line .o{stroke-width:11}\n.fd .c{stroke-width:5;stroke-opacity:.7}\n")
        .append(".fd .e,.fd .d{").append(line)
        .append(".fd .e{stroke-width:14}\n.fd.line .e{stroke-width:11}\n.fd .d{stroke-width:6;stroke-opacity:.7}\n")
        .append(".fd .tr{stroke:currentColor;stroke-width:10;stroke-dasharray:60 26;stroke-opacity:.75}\n")
        .append(".fd .vo{fill:var(--ferrule-void,").append(VOID).append(")}\n")
        .append(".fd .dim .vo{fill:var(--ferrule-dim-void,").append(DIM[1]).append(")}\n")
        .append(".fd.line .k11{fill:var(--ferrule-paper,").append(PAPER).append(")}\n")
        .append(".fd.line .lit .o,.fd.line .lit .e{stroke-width:30}\n")
        .append(".fd.metal .lit .o,.fd.metal .lit .e{stroke:var(--ferrule-lit-ink,#061a45);stroke-width:26}\n")
        .append(".fd.metal .lit .e{stroke-width:36}\n")
        .append(".fd .dim .o,.fd .dim .c,.fd .dim .e,.fd .dim .d{stroke:var(--ferrule-dim-ink,").append(INK).append(");stroke-opacity:.35}\n");
  }

  private static void rampRule(StringBuilder css, String selector, String name, String[] keys) {
    css.append(selector).append('{');
    for (int k = 0; k < Tones.COUNT; k++) {
      css.append("--k").append(k).append(":var(--ferrule-").append(name).append('-').append(k).append(',')
          .append(ramp(keys, k)).append(");");
    }
    css.append("}\n");
  }

  /** The colour of outlines. */
  String ink() {
    return INK;
  }

  /** The fill of line style. */
  String paper() {
    return PAPER;
  }

  /** The dark of openings. */
  String dark() {
    return VOID;
  }
}
