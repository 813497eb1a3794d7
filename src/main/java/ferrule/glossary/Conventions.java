package ferrule.glossary;

import java.util.List;

/**
 * What the trade agrees on beyond names: how casings are numbered, which way the air goes, which ports a piston has and
 * which tubes come out with a slide. Common practice, without a published source.
 *
 * @param casings the valve casings in the order of their numbers, from the player's side toward the bell
 * @param airPath the parts that the air passes with every piston up, from the player to the rim of the bell
 * @param knuckles every knuckle of the casings
 * @param pistons the pistons in the order of their numbers
 * @param slides the slides and the way through them
 * @param leversByCurve the levers of lever water keys, the most deeply curved first
 */
public record Conventions(
    List<ConceptId> casings,
    List<ConceptId> airPath,
    List<ConceptId> knuckles,
    List<PistonPorts> pistons,
    List<SlidePath> slides,
    List<ConceptId> leversByCurve) {

  /** Copies the lists. */
  public Conventions {
    casings = List.copyOf(casings);
    airPath = List.copyOf(airPath);
    knuckles = List.copyOf(knuckles);
    pistons = List.copyOf(pistons);
    slides = List.copyOf(slides);
    leversByCurve = List.copyOf(leversByCurve);
  }

  /**
   * The ports of one piston by what they serve.
   *
   * @param piston the piston
   * @param casing the casing whose number it bears
   * @param in the knuckle by which the air comes into the casing
   * @param out the knuckle by which the air leaves it
   * @param through the port that joins the two while the piston is up
   * @param slide the ports that send the air round by the slide while the piston is down
   */
  public record PistonPorts(
      ConceptId piston, ConceptId casing, ConceptId in, ConceptId out, ConceptId through, List<ConceptId> slide) {

    /** Copies the list. */
    public PistonPorts {
      slide = List.copyOf(slide);
    }
  }

  /**
   * The way through one slide.
   *
   * @param slide the slide as it comes out of the instrument
   * @param path the parts from one end of the way to the other, those that stay on the instrument included
   * @param moving the straight tubes that come out with the slide
   */
  public record SlidePath(ConceptId slide, List<ConceptId> path, List<ConceptId> moving) {

    /** Copies the lists. */
    public SlidePath {
      path = List.copyOf(path);
      moving = List.copyOf(moving);
    }
  }
}
