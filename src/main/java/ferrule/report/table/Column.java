package ferrule.report.table;

/**
 * A column of a table.
 *
 * @param name in lower case, such as "left on"; once in its table; the heading in every file
 * @param kind what sort of values
 * @param meaning in a sentence, for the data dictionary
 * @param always whether every row has a value
 * @param onPaper whether it is printed; what the whole table shares, and ids, stand in files only
 */
public record Column(String name, Kind<?> kind, String meaning, boolean always, boolean onPaper) {

  /** Checks that it has a name and a meaning. */
  public Column {
    if (name.isBlank() || meaning.isBlank()) {
      throw new IllegalArgumentException("a column has a name and says what it means; given: " + name);
    }
  }

  /** The name, and the unit in brackets if there is one. */
  public String heading() {
    return kind.unit().isEmpty() ? name : name + " (" + kind.unit() + ")";
  }

  /** The heading with a capital, for paper. */
  public String title() {
    return Character.toUpperCase(name.charAt(0)) + heading().substring(1);
  }

  /** Whether its values stand to the right. */
  public boolean isNumeric() {
    return kind.isNumeric();
  }
}
