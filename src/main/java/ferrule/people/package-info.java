/**
 * Persons, their roles and cohorts, passwords and PINs, and sign-in.
 *
 * <p>It knows {@code store}. Start at {@link ferrule.people.Person}, then {@link ferrule.people.PeopleStore}.
 */
package ferrule.people;
