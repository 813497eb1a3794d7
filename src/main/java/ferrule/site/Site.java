package ferrule.site;

import java.util.regex.Pattern;

/**
 * One programme of an installation, such as {@code Site("night-bench", "Night bench")}.
 *
 * @param name as it stands in addresses ({@code /at/night-bench}) and on the command line; never changes
 * @param title as people read it, up to 120 characters; empty until a coordinator names the programme
 */
public record Site(String name, String title) {

  /** The name of the site that an installation starts with. */
  public static final String FIRST = "main";
  /** The most characters that a title has. */
  public static final int LONGEST_TITLE = 120;

  private static final Pattern NAME = Pattern.compile("[a-z][a-z0-9]*(-[a-z0-9]+)*");
  private static final int LONGEST_NAME = 40;

  /**
   * Checks the name and the title.
   *
   * @throws IllegalArgumentException saying what was expected
   */
  public Site {
    if (!isName(name)) {
      throw new IllegalArgumentException("a site's name is up to " + LONGEST_NAME
          + " lower-case letters and digits, with hyphens between, such as night-bench; given: " + name);
    }
    if (!title.equals(title.strip()) || title.length() > LONGEST_TITLE) {
      throw new IllegalArgumentException(
          "a site's title has at most " + LONGEST_TITLE + " characters; given: " + title.length());
    }
  }

  /** Whether a site could be named so. */
  public static boolean isName(String text) {
    return text.length() <= LONGEST_NAME && NAME.matcher(text).matches();
  }

  /** Whether it is the site that the installation started with. */
  public boolean isFirst() {
    return name.equals(FIRST);
  }

  /** What to call it: its title, or its name as long as it has none. */
  public String called() {
    return title.isEmpty() ? name : title;
  }

  /** The schema of its tables, where it is not the first. */
  String schema() {
    return "site_" + name.replace('-', '_');
  }
}
