package ferrule.roster;

import java.util.List;

/**
 * What a coordinator does between an empty installation and the first drill, in order, and how far they are.
 *
 * @param named whether the programme has a title
 * @param cohorts how many there are
 * @param apprentices how many there are
 * @param instructors how many there are
 * @param instructorsIn how many of them have come in by their invitation
 * @param drillSet whether a drill was ever set
 */
public record FirstDay(boolean named, int cohorts, int apprentices, int instructors, int instructorsIn, boolean drillSet) {

  /**
   * A step.
   *
   * @param title what to do
   * @param says how far it is, or how it is done
   * @param done whether it is done
   * @param path where it is done; empty if that is here or somebody else's work
   * @param link the words of the link there
   */
  public record Step(String title, String says, boolean done, String path, String link) {}

  /** The steps, in the order in which they are best done. */
  public List<Step> steps() {
    return List.of(
        new Step("Name the programme", named ? "Its name stands on every page." : "It then stands on every page.",
            named, "", ""),
        new Step("Make a cohort and pick its edition of the curriculum",
            cohorts == 0 ? "A cohort is judged by the edition that it begins with." : counted(cohorts, "cohort") + ".",
            cohorts > 0, "/people", "People"),
        new Step("Bring in the roster",
            apprentices == 0 ? "From a spreadsheet, looked over before anything is added; or typed, name by name."
                : counted(apprentices, "apprentice") + ".",
            apprentices > 0, "/people/roster", "Roster"),
        new Step("Invite the instructors", instructorsSay(), instructorsIn > 0, "/people", "People"),
        new Step("The first drill is set", drillSet ? "It is." : "An instructor sets it, on the page Class.", drillSet, "", ""));
  }

  private String instructorsSay() {
    if (instructors == 0) {
      return "Add them on the page of people, then hand each their invitation.";
    }
    return counted(instructors, "instructor") + " added, " + (instructorsIn == 0 ? "none" : "" + instructorsIn)
        + " in by invitation yet.";
  }

  private static String counted(int n, String thing) {
    return n + " " + thing + (n == 1 ? "" : "s");
  }

  /** Whether the first drill is set: from then on the installation is in use and needs no list. */
  public boolean isOver() {
    return drillSet;
  }

  /** How many steps are done. */
  public long done() {
    return steps().stream().filter(Step::done).count();
  }
}
