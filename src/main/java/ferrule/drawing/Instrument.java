package ferrule.drawing;

import ferrule.glossary.ConceptId;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * The model of an instrument: its dimensions, the shapes of its parts in their places, the way of the air, and the
 * pictures that can be made of it.
 *
 * @param id the instrument's folder, such as {@code trumpet}
 * @param dimensions the named dimensions
 * @param shapes every shape in every variant
 * @param airway stretches of the way of the air by name: {@code open}, and for each valve {@code first.through} (what
 *     the valve leaves out when it is pressed) and {@code first.detour} (what it lets the air through instead)
 * @param joints pairs of parts whose tubes meet end to end or end to side
 * @param slides pairs of an inner and an outer tube that slide in one another
 * @param contacts pairs of parts whose material overlaps in the model, as with soldered parts
 * @param views the pictures, in order
 */
public record Instrument(
    String id,
    Dimensions dimensions,
    List<Shape> shapes,
    Map<String, Course> airway,
    List<Pair> joints,
    List<Pair> slides,
    List<Pair> contacts,
    List<View> views) {

  /** Two parts that have to do with one another. */
  public record Pair(ConceptId a, ConceptId b) {}

  /** Copies the collections. */
  public Instrument {
    shapes = List.copyOf(shapes);
    airway = java.util.Collections.unmodifiableMap(new LinkedHashMap<>(airway));
    joints = List.copyOf(joints);
    slides = List.copyOf(slides);
    contacts = List.copyOf(contacts);
    views = List.copyOf(views);
  }

  /** The view with this id, if there is one. */
  public Optional<View> view(String viewId) {
    return views.stream().filter(v -> v.id().equals(viewId)).findFirst();
  }

  /**
   * The length of the way of the air from the end of the mouthpiece receiver to the rim of the bell, in mm.
   *
   * @param valves the valves that are pressed, such as {@code first} and {@code third}
   */
  public double airLength(java.util.Set<String> valves) {
    double length = way("open").length();
    for (String valve : valves) {
      length += way(valve + ".detour").length() - way(valve + ".through").length();
    }
    return length;
  }

  private Course way(String name) {
    Course course = airway.get(name);
    if (course == null) {
      throw new IllegalArgumentException("the model has no way of the air called '" + name + "'");
    }
    return course;
  }
}
