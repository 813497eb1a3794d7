package ferrule.naming;

/**
 * A question that a qualifier answers, such as "which valve": one of the glossary's facets, or what a brace joins.
 *
 * @param id the facet's id, or {@code joins}
 * @param title the question in words
 */
public record Question(String id, String title) {

  /** What a brace or a tube between two things is named by. */
  public static final Question JOINS = new Question("joins", "what it joins");
}
