package ferrule.atlas;

import ferrule.glossary.Concept;
import java.util.List;
import java.util.stream.Collectors;

/**
 * A drawing as a page shows it, with what can be chosen about it and the list of its parts.
 *
 * @param subject what is shown: the page's part, or the nearest whole of it that has a shape
 * @param title the view in words
 * @param svg the drawing
 * @param narrowLabels the labels for windows that have no room for the drawing's own; empty if it needs none
 * @param named the parts that the drawing is about, in the order of their numbers if they have any
 * @param others the other parts in it
 * @param unseen parts of the subject that cannot be seen in it
 * @param elsewhere parts of the subject that other models have
 * @param views the views that can be chosen, at least the one that is shown
 * @param models the forms of the instrument that can be chosen, a row for each way in which they differ
 * @param labels what can stand beside the parts
 */
public record Figure(
    Concept subject,
    String title,
    String svg,
    String narrowLabels,
    List<PartRow> named,
    List<PartRow> others,
    List<PartRow> unseen,
    List<PartRow> elsewhere,
    List<Choice> views,
    List<ChoiceRow> models,
    List<Choice> labels) {

  /**
   * A part in the list of a drawing.
   *
   * @param number the number beside it in the drawing, or an empty text
   * @param shape the number of its shape, -1 if it has none in the drawing
   * @param term its preferred term
   * @param path its page
   */
  public record PartRow(String number, int shape, String term, String path) {}

  /**
   * One question about the drawing with its answers.
   *
   * @param title what differs, such as "water key"
   * @param choices the answers, at least two
   */
  public record ChoiceRow(String title, List<Choice> choices) {}

  /**
   * One answer.
   *
   * @param text the answer in words
   * @param path the page with this answer
   * @param chosen whether it is the one that is shown
   */
  public record Choice(String text, String path, boolean chosen) {}

  /** The model that is shown, in words. */
  public String model() {
    return models.stream().flatMap(row -> row.choices().stream()).filter(Choice::chosen).map(Choice::text)
        .collect(Collectors.joining("; "));
  }

  /** Copies the lists. */
  public Figure {
    named = List.copyOf(named);
    others = List.copyOf(others);
    unseen = List.copyOf(unseen);
    elsewhere = List.copyOf(elsewhere);
    views = List.copyOf(views);
    models = List.copyOf(models);
    labels = List.copyOf(labels);
  }
}
