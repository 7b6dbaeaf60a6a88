/* Feedback pages as PDF. */
#ifndef AMPSUM_DRAW_LESSON_FEEDBACK_H
#define AMPSUM_DRAW_LESSON_FEEDBACK_H

/* The second program's command `lesson-feedback FOLDER a4|letter` (words from argv[1]); its exit status. */
int lesson_feedback_main(int argc, char **argv);

#endif
