package ferrule.atlas;

import ferrule.drawing.Dimensions;
import ferrule.drawing.Instrument;
import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Level;
import java.util.List;
import java.util.Locale;
import java.util.Set;

/**
 * A figure that belongs to a part, taken from the model that the drawings are made of.
 *
 * @param title what is said
 * @param text the figure with its unit and where it comes from
 */
public record Fact(String title, String text) {

  private static final double SEMITONES_IN_AN_OCTAVE = 12;

  /** The kind of the assemblies that lengthen the way of the air. */
  private static final ConceptId SLIDE = ConceptId.of("slide-assembly");

  /** The figures of a concept: of a valve slide what it adds, of the whole instrument its main dimensions. */
  static List<Fact> of(Instrument instrument, Concept concept) {
    if (concept.level() != Level.ASSEMBLY) {
      return List.of();
    }
    if (concept.partOf().isEmpty()) {
      return ofTheWhole(instrument.dimensions());
    }
    String valve = concept.qualifiers().get("valve");
    boolean isSlide = concept.broader().filter(SLIDE::equals).isPresent();
    return valve != null && isSlide ? ofValveSlide(instrument, valve) : List.of();
  }

  private static List<Fact> ofTheWhole(Dimensions d) {
    return List.of(
        new Fact(
            "Sounding length",
            millimetres(d.get("soundingLength")) + ": half a wave of B-flat at A4 = 440 Hz, in air at "
                + Math.round(d.get("temperature")) + " °C"),
        new Fact("Bore in these drawings", millimetres(d.get("bore"))),
        new Fact("Bell across the rim in these drawings", millimetres(2 * d.get("bellRadius"))));
  }

  /** Equal temperament: k semitones lower need 2^(k/12) times the length. */
  private static List<Fact> ofValveSlide(Instrument instrument, String valve) {
    double sounding = instrument.dimensions().get("soundingLength");
    double added = instrument.airLength(Set.of(valve)) - instrument.airLength(Set.of());
    double semitones = SEMITONES_IN_AN_OCTAVE * Math.log(1 + added / sounding) / Math.log(2);
    return List.of(
        new Fact(
            "Length that it adds, pushed in",
            String.format(
                Locale.ROOT, "%s, %.1f %% of the sounding length of %s: %s in equal temperament",
                millimetres(added), 100 * added / sounding, millimetres(sounding), steps(semitones))));
  }

  private static String steps(double semitones) {
    long whole = Math.round(semitones);
    return whole == 1 ? "one semitone" : whole == 2 ? "two semitones" : whole == 3 ? "three semitones"
        : whole + " semitones";
  }

  private static String millimetres(double length) {
    return String.format(Locale.ENGLISH, "%,.1f mm", length);
  }
}
